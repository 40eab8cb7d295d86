// What a rule may look at: the event it is asked about, and every fact up to
// the moment the question is put.
#pragma once

#include <absl/container/inlined_vector.h>

#include <optional>
#include <span>
#include <string>

#include "rules/engine/history.h"
#include "rules/engine/setup.h"

namespace turnstone {

// Screenings with one instrument; seldom more than a programme has.
using Forms = absl::InlinedVector<const Fact*, 12>;

// A window on a History; lives no longer than it. Pure.
class View {
 public:
  // The question is about fact `at`, put at `due`; facts after `due` are not
  // seen. REQUIRES: at < history.facts().size().
  View(const Site& site, const History& history, size_t at, absl::Time due);

  // The same, for whoever wants to read what is seen.
  [[nodiscard]] View InWords() const;
  [[nodiscard]] bool in_words() const { return in_words_; }

  [[nodiscard]] const Site& site() const { return *site_; }
  [[nodiscard]] const Fact& subject() const { return history_->facts()[at_]; }
  [[nodiscard]] absl::Time due() const { return due_; }

  // The screening in question, else the latest one with the instrument in
  // sight; null if there is none.
  [[nodiscard]] const Fact* ScreeningOf(const std::string& instrument) const;
  // Screenings with the instrument up to `last`, oldest first, `last` included.
  // REQUIRES: `last` came from ScreeningOf(instrument).
  [[nodiscard]] Forms ScreeningsUpTo(const Fact& last,
                                     const std::string& instrument) const;
  // The `count` latest of those, oldest first; empty if there are fewer.
  // REQUIRES: as above; count >= 1.
  [[nodiscard]] Forms LatestScreenings(const Fact& last,
                                       const std::string& instrument,
                                       size_t count) const;
  // The last screening with the instrument up to enrolment, else the first.
  // Null if there is none before `last`.
  [[nodiscard]] const Fact* Baseline(const Fact& last,
                                     const std::string& instrument) const;

  [[nodiscard]] bool Enrolled() const;
  [[nodiscard]] bool Discharged() const;
  // Of the latest discharge in sight. REQUIRES: Discharged().
  [[nodiscard]] v1::DischargeReason DischargeReason() const;
  // Planned at enrolment, else the site's number.
  [[nodiscard]] int PlannedVisits() const;
  // Of the present or latest programme, up to `last`, that moment included.
  [[nodiscard]] int AttendedVisits(absl::Time last) const;
  // Missed contacts in a row up to the subject; only attendance ends the row.
  [[nodiscard]] int MissedInARow() const;
  // Every fact in sight, oldest first.
  [[nodiscard]] std::span<const Fact> Facts() const;
  // Midnight that begins the day `days` days before that of `time`, in the
  // site's zone.
  [[nodiscard]] absl::Time StartOfDay(absl::Time time, int days) const;
  // "3 Feb 2027", in the site's zone.
  [[nodiscard]] std::string Day(absl::Time time) const;

 private:
  // When the programme before this one ended; InfinitePast if there was none.
  [[nodiscard]] absl::Time EarlierProgrammeEnd() const;
  // Latest fact of a kind in sight, or null.
  template <typename Kind>
  [[nodiscard]] const Fact* Latest() const;

  const Site* site_;
  const History* history_;
  size_t at_;
  size_t end_;  // facts [0, end_) are in sight
  absl::Time due_;
  bool in_words_ = false;
};

}  // namespace turnstone

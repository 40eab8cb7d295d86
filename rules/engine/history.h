// What is known of one participant, as the rules see it: facts in the order in
// which they happened, corrections applied. Built from events alone, so that
// replaying the events gives it back.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "rules/measure/catalogue.h"
#include "rules/measure/score.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

struct EventKey {
  std::string source;
  std::string event_id;
  friend auto operator<=>(const EventKey&, const EventKey&) = default;
};

struct Screening {
  const Scale* scale = nullptr;
  Score score;
  std::optional<bool> willing;
};
struct PlannedVisit {
  std::string visit;
  absl::Time start;
  std::string clinician;  // may be empty
};
struct VisitResult {
  std::string visit;
  v1::VisitOutcomeKind outcome = v1::VISIT_OUTCOME_KIND_UNSPECIFIED;
};
struct Practice {
  std::optional<int> confidence;
};
struct EnrolmentFact {
  std::optional<int> planned_visits;
  std::string clinician;  // may be empty
};
struct DischargeFact {
  v1::DischargeReason reason = v1::DISCHARGE_REASON_UNSPECIFIED;
};
using FactContent = std::variant<Screening, PlannedVisit, VisitResult, Practice,
                                 EnrolmentFact, DischargeFact>;

struct Fact {
  EventKey key;
  // "source event_id" of the correction that gave it its present content;
  // empty if none.
  std::string corrected_by;
  absl::Time effective;
  FactContent content;
  // Number, in order of arrival, of the event that gave it this content.
  int64_t arrival = 0;

  // Null unless it is of that kind.
  template <typename Kind>
  [[nodiscard]] const Kind* As() const {
    return std::get_if<Kind>(&content);
  }
};

// Whether anything was found out: an answer that counts, a total, or a result
// that does not say otherwise. Pure.
[[nodiscard]] bool WasDone(const Screening& form);
// What the form says of self-harm: TRUE the item has 1 point or more, or a
// result counts as that; FALSE 0; UNKNOWN no answer. Absent where it says
// nothing. Pure.
[[nodiscard]] std::optional<Truth> SelfHarmOf(const Screening& form);
// Whether `fact` shows the participant in touch with the team: an enrolment, a
// screening that was done, an attended visit, a practice report. Pure.
[[nodiscard]] bool IsContact(const Fact& fact);

// What an event did to the history.
struct HistoryChange {
  // Nothing before this time looks different now.
  absl::Time from;
  // Set when the event was a correction: the event it mended.
  std::optional<EventKey> corrected;
};

// Movable. Thread-compatible. Keeps pointers into the Catalogue it was given.
class History {
 public:
  // Takes in an accepted event. INVALID_ARGUMENT, with what to send instead
  // and nothing changed, if a form cannot be scored, or a correction names an
  // event this participant does not have, a correction, or another kind.
  // Pure. Order of arrival does not matter, save among corrections of the same
  // event, where the last one counts.
  [[nodiscard]] absl::StatusOr<HistoryChange> Apply(const v1::Event& event,
                                                    const Catalogue& catalogue);

  // Ordered by (effective, key); withdrawn facts are absent.
  [[nodiscard]] const std::vector<Fact>& facts() const { return facts_; }
  // Index of the first fact at or after `time`.
  [[nodiscard]] size_t FirstAtOrAfter(absl::Time time) const;
  // Absent if there is none or it was withdrawn.
  [[nodiscard]] std::optional<size_t> Find(const EventKey& key) const;
  // The fact that has this arrival and time; absent if there is none any more.
  [[nodiscard]] std::optional<size_t> FindArrival(int64_t arrival,
                                                  absl::Time effective) const;
  // Whom the participant was last given to; empty if nobody.
  [[nodiscard]] std::string Clinician() const;

 private:
  [[nodiscard]] absl::StatusOr<HistoryChange> Correct(
      const v1::Event& event, const Catalogue& catalogue);
  // FactContent index of what is there, or was before it was withdrawn; absent
  // if there never was any.
  [[nodiscard]] std::optional<size_t> KindOf(const EventKey& key) const;
  void Insert(Fact fact);

  std::vector<Fact> facts_;
  int64_t arrivals_ = 0;
  // FactContent index by key.
  std::map<EventKey, size_t> withdrawn_;
};

}  // namespace turnstone

// One participant as the rules of one lane see them, event by event.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <vector>

#include "rules/engine/agenda.h"
#include "rules/engine/decide.h"
#include "rules/engine/history.h"
#include "rules/replay/lane.h"

namespace turnstone {

// Thread-compatible. Always to be given the same lane, which must outlive it,
// and times that never go back.
class Track {
 public:
  // What rules raise that has fallen due up to `now`.
  [[nodiscard]] std::vector<Judgement> PassTime(const Lane& lane,
                                                absl::Time now);
  // What they raise because of `event`, and have not raised before. Errors as
  // History::Apply; then nothing has changed.
  // REQUIRES: PassTime(lane, now) came before.
  [[nodiscard]] absl::StatusOr<std::vector<Judgement>> Take(
      const Lane& lane, const v1::Event& event, absl::Time now);

  [[nodiscard]] const History& history() const { return history_; }

 private:
  // A reason that has been raised and still holds.
  struct Held {
    int64_t arrival;  // of the fact
    int rule;
    absl::Time due;
    Truth truth;
  };
  [[nodiscard]] bool Holds(const Judgement& judgement) const;
  [[nodiscard]] bool IsAbout(const Held& held,
                             const Judgement& judgement) const;
  [[nodiscard]] std::vector<Judgement> RaisedNow(
      std::vector<Judgement> judgements);

  History history_;
  Agenda agenda_;
  absl::Time asked_until_ = absl::InfinitePast();
  std::vector<Held> held_;
};

}  // namespace turnstone

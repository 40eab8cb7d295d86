// What the engine answers, asked in the two ways the service asks it.
#pragma once

#include <map>
#include <tuple>
#include <vector>

#include "rules/engine/decide.h"
#include "tests/second/second_evaluator.h"

namespace turnstone::second {

// An event, and when it was recorded.
struct Recorded {
  v1::Event event;
  absl::Time at;
};

// Everything raised by the time the last event is recorded and the clock shows
// `now`, all of it asked at once, in order. As after a restart.
[[nodiscard]] std::vector<Verdict> AskedAtOnce(
    const Setup& setup, const Site& site, const std::vector<Recorded>& history,
    absl::Time now);

// Takes in one event after the other, and asks only what may have changed, as
// service/core/participant.cc does.
class StepByStep {
 public:
  StepByStep(const Setup& setup, const Site& site)
      : setup_(&setup), site_(&site) {}

  // REQUIRES: valid, and recorded no earlier than the one before.
  void TakeIn(const Recorded& recorded);
  // Wakes at each moment at which something falls due, and at no other.
  void PassTime(absl::Time now);
  // What is raised as of now, in order.
  [[nodiscard]] std::vector<Verdict> Raised() const;

 private:
  using Question = std::tuple<std::string, EventKey, absl::Time>;
  void Settle(const Asking& asking);

  const Setup* setup_;
  const Site* site_;
  History history_;
  Agenda agenda_;
  absl::Time asked_until_ = absl::InfinitePast();
  std::map<Question, Answer> raised_;
};

}  // namespace turnstone::second

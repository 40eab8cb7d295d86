// When each rule is to be asked about each fact. Derived from the history
// alone, never armed by hand, so that nothing is forgotten over a restart.
#pragma once

#include <absl/time/time.h>

#include <map>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "rules/engine/history.h"
#include "rules/engine/setup.h"

namespace turnstone {

// One rule, asked about one fact.
struct Question {
  absl::Time due;
  EventKey fact;
  int rule = 0;  // index into Site::rules
  // False: if the answer is unknown, the rule waits and is asked again.
  bool final = true;
  // Set where it is asked again: when it was asked first. Raises nothing unless
  // the answer was unknown then.
  std::optional<absl::Time> first_asked = std::nullopt;
  friend bool operator<(const Question& a, const Question& b) {
    return std::tie(a.due, a.fact, a.rule, a.final) <
           std::tie(b.due, b.fact, b.rule, b.final);
  }
};

// The questions a fact gives rise to, whenever they fall due. Pure.
[[nodiscard]] std::vector<Question> QuestionsAbout(const Fact& fact,
                                                   const Site& site);

// The questions of one participant that fall due later than their fact.
// Thread-compatible.
class Agenda {
 public:
  // Puts the questions about every fact of `history` from `from` on in place
  // of what was known of them, and drops those about `withdrawn`.
  void Refresh(const History& history, absl::Time from,
               const std::optional<EventKey>& withdrawn, const Site& site);
  // Those with after < due <= until, in order.
  [[nodiscard]] std::vector<Question> Between(absl::Time after,
                                              absl::Time until) const;
  // The first one due after `time`; InfiniteFuture if there is none.
  [[nodiscard]] absl::Time NextAfter(absl::Time time) const;

 private:
  void Forget(const EventKey& fact);

  std::set<Question> questions_;
  std::map<EventKey, std::vector<Question>> by_fact_;
};

}  // namespace turnstone

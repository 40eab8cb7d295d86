// When each rule is to be asked about each fact. Derived from the history
// alone, never armed by hand, so that nothing is forgotten over a restart.
#pragma once

#include <absl/time/time.h>

#include <cstdint>
#include <optional>
#include <span>
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

// A question without the name of its fact: cheap to make and to sort. The rest
// as in Question.
struct Turn {
  absl::Time due;
  int rule = 0;
  bool final = true;
  std::optional<absl::Time> first_asked = std::nullopt;
  // Where the fact stands in the history, once somebody has looked.
  size_t at = 0;
};

// Adds to `turns` those about `fact`, which stands at `at`, that are put at
// once. Pure.
void TurnsAtOnce(const Fact& fact, size_t at, const Site& site,
                 std::vector<Turn>& turns);

// The questions of one participant that fall due later than their fact.
// Thread-compatible.
class Agenda {
 public:
  // Takes in the questions about what has come to `history` since the last
  // time; nothing of it happened before `from`. With `withdrawn`, drops those
  // about facts that are no longer there. Always to be given the same history
  // and site.
  void Refresh(const History& history, absl::Time from,
               const std::optional<EventKey>& withdrawn, const Site& site);
  // Those with after < due <= until, in order. `history`: as in Refresh.
  [[nodiscard]] std::vector<Question> Between(const History& history,
                                              absl::Time after,
                                              absl::Time until) const;
  // The first one due after `time`; InfiniteFuture if there is none.
  [[nodiscard]] absl::Time NextAfter(absl::Time time) const;

  // A question about the fact of that arrival and time.
  struct Entry {
    Turn turn;
    absl::Time effective;
    int64_t arrival = 0;
  };
  // As Between, in the order of `due` alone.
  [[nodiscard]] std::span<const Entry> EntriesBetween(absl::Time after,
                                                      absl::Time until) const;

 private:
  void Add(const Fact& fact, const Site& site);

  std::vector<Entry> entries_;  // in the order of `due`
  int64_t last_arrival_ = 0;
};

}  // namespace turnstone

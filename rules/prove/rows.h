// Properties over rows of events: an alert is raised at the last one.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "rules/engine/history.h"
#include "rules/engine/setup.h"
#include "rules/prove/proof.h"
#include "rules/prove/row_memory.h"
#include "rules/prove/walk.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// The rules that could raise what a property wants: of its kind, at its
// priority, and at once. To leave a rule out can only take alerts away, so that
// what holds without it holds with it.
struct RulesInQuestion {
  // The site with those of them whose memory is known.
  Site remembering;
  // The site with all of them.
  Site all;
  // Whether the two differ.
  bool some_left_out = false;
};
[[nodiscard]] RulesInQuestion RulesThatCould(const v1::RaisesAlert& wanted,
                                             const Site& site);

// What `property` and those of the rules with a memory remember of a row.
// REQUIRES: `property.given` has a memory, if there is one.
[[nodiscard]] RowMemory MemoryOf(const v1::Property& property,
                                 const RulesInQuestion& rules,
                                 const std::string& instrument);

// The rows of one walk.
struct Rows {
  int steps = 0;
  int longest = 0;
  std::function<std::vector<v1::Event>(const Row&)> events;
  std::function<std::vector<int>(const Row&)> digest;
};

// Whether what `property` wants is raised at the end of every row.
[[nodiscard]] Walked WalkRows(const v1::Property& property,
                              const RulesInQuestion& rules,
                              const Catalogue& catalogue, const Rows& rows);

// Fills in what became of `property`, with the events of the case in question.
void Conclude(const Walked& walked, const v1::Property& property,
              const Site& site, const Catalogue& catalogue,
              const std::function<std::vector<v1::Event>(const Row&)>& events,
              Proof& proof);

// The participant's history after `events`, each of which must be accepted.
[[nodiscard]] History HistoryOf(const std::vector<v1::Event>& events,
                                const Catalogue& catalogue);

}  // namespace turnstone

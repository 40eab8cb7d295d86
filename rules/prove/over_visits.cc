#include <algorithm>

#include "rules/engine/view.h"
#include "rules/prove/case_events.h"
#include "rules/prove/over_rows.h"
#include "rules/prove/rows.h"

namespace turnstone {

void ProveOverVisits(const v1::Property& property, const Site& site,
                     const Catalogue& catalogue, Proof& proof) {
  const RulesInQuestion rules = RulesThatCould(property.raise(), site);
  const RowMemory memory = MemoryOf(property, rules, "");
  const CaseEvents made(site, proof.id);
  Rows rows;
  rows.steps = v1::VisitOutcomeKind_MAX;
  rows.longest = property.every_visit_history().visits_at_most();
  rows.events = [&made](const Row& row) {
    std::vector<v1::Event> events = {made.Enrolment(0)};
    for (const int step : row) {
      const auto week = static_cast<int>(events.size()) - 1;
      events.push_back(
          made.Outcome(static_cast<v1::VisitOutcomeKind>(step + 1), week));
    }
    return events;
  };
  // The engine's own counts, of which nothing is told apart beyond the highest
  // number that is asked for.
  rows.digest = [&](const Row& row) {
    const History history = HistoryOf(rows.events(row), catalogue);
    const size_t at = history.facts().size() - 1;
    const absl::Time last = history.facts()[at].effective;
    const View view(site, history, at, last);
    return std::vector<int>{
        std::min(view.MissedInARow(), memory.missed),
        std::min(view.AttendedVisits(last), memory.attended)};
  };
  const Walked walked = WalkRows(property, rules, catalogue, rows);
  Conclude(walked, property, site, catalogue, rows.events, proof);
}

}  // namespace turnstone

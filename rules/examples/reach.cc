#include "rules/examples/reach.h"

#include "rules/examples/formula.h"
#include "rules/examples/possible.h"

namespace turnstone {

Reach ReachOf(const v1::Rule& rule, const Catalogue& catalogue) {
  const v1::Condition& condition = rule.condition();
  Reach reach;
  const std::vector<Truth> none(SinglesOf(condition).size(), v1::TRUTH_UNKNOWN);
  std::vector<Truth> parts;
  (void)Fold(condition, none, &parts);
  reach.part.resize(parts.size());
  reach.could_show.resize(none.size());
  reach.too_many = !ForEachCombination(
      rule, catalogue, [&](const std::vector<Truth>& singles) {
        parts.clear();
        (void)Fold(condition, singles, &parts);
        for (size_t i = 0; i < parts.size(); ++i) {
          if (parts[i] == v1::TRUTH_TRUE) reach.part[i].is_true = true;
          if (parts[i] == v1::TRUTH_FALSE) reach.part[i].is_false = true;
        }
        AddShown(condition, singles, reach.could_show);
      });
  if (!reach.too_many) return reach;
  reach.part.assign(reach.part.size(), {true, true});
  reach.could_show.assign(reach.could_show.size(), {true, true});
  return reach;
}

}  // namespace turnstone

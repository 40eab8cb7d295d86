#include "rules/prove/leaves.h"

#include <algorithm>

namespace turnstone {

void ForEachLeaf(const v1::Condition& condition,
                 const std::function<void(const v1::Condition&)>& use) {
  const v1::Conditions* parts = nullptr;
  if (condition.has_all_of()) parts = &condition.all_of();
  if (condition.has_any_of()) parts = &condition.any_of();
  if (parts != nullptr) {
    for (const v1::Condition& part : parts->condition()) ForEachLeaf(part, use);
  } else if (condition.has_not_()) {
    ForEachLeaf(condition.not_(), use);
  } else {
    use(condition);
  }
}

Site WithRules(const Site& site,
               const std::function<bool(const v1::Rule&)>& wanted) {
  Site fewer = site;
  auto& rules = *fewer.rules.mutable_rule();
  rules.erase(
      std::remove_if(rules.begin(), rules.end(),
                     [&](const v1::Rule& rule) { return !wanted(rule); }),
      rules.end());
  return fewer;
}

}  // namespace turnstone

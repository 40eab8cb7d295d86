#include "rules/examples/coverage.h"

#include "rules/engine/condition_words.h"
#include "rules/examples/formula.h"

namespace turnstone {
namespace {

void AddNeed(const v1::Condition& condition, bool holds,
             v1::Conditions& needed) {
  v1::Condition& need = *needed.add_condition();
  (holds ? need : *need.mutable_not_()) = condition;
}

// Adds what must be so of the conditions beside single condition number `at` of
// those in `condition`, and then the condition itself.
void AddNeeds(const v1::Condition& condition, size_t at, Truth way,
              v1::Conditions& needed) {
  if (condition.has_not_()) return AddNeeds(condition.not_(), at, way, needed);
  const bool all = condition.has_all_of();
  if (!all && !condition.has_any_of()) {
    return AddNeed(condition, way == v1::TRUTH_TRUE, needed);
  }
  const v1::Conditions& list = all ? condition.all_of() : condition.any_of();
  size_t first = 0;
  for (const v1::Condition& part : list.condition()) {
    const size_t count = SinglesOf(part).size();
    if (first <= at && at < first + count) {
      AddNeeds(part, at - first, way, needed);
    } else {
      // Of "all of", the others must hold for this one to matter; of "any of",
      // none of them may.
      AddNeed(part, all, needed);
    }
    first += count;
  }
}

}  // namespace

void AddShown(const v1::Condition& condition, const std::vector<Truth>& singles,
              std::vector<Shown>& shown) {
  for (size_t i = 0; i < singles.size(); ++i) {
    if (!Matters(condition, singles, i)) continue;
    const bool holds = singles[i] == v1::TRUTH_TRUE;
    (holds ? shown[i].when_true : shown[i].when_false) = true;
  }
}

std::string NeededInWords(const v1::Condition& condition, size_t at, Truth way,
                          const RuleTerms& terms) {
  v1::Condition needed;
  AddNeeds(condition, at, way, *needed.mutable_all_of());
  return ConditionInWords(needed, terms);
}

}  // namespace turnstone

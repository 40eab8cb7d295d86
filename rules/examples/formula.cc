#include "rules/examples/formula.h"

namespace turnstone {
namespace {

// Null unless it is a list.
const v1::Conditions* ListIn(const v1::Condition& condition) {
  if (condition.has_all_of()) return &condition.all_of();
  return condition.has_any_of() ? &condition.any_of() : nullptr;
}

void AddSingles(const v1::Condition& condition,
                std::vector<const v1::Condition*>& singles) {
  if (const v1::Conditions* list = ListIn(condition)) {
    for (const v1::Condition& part : list->condition()) {
      AddSingles(part, singles);
    }
  } else if (condition.has_not_()) {
    AddSingles(condition.not_(), singles);
  } else {
    singles.push_back(&condition);
  }
}

void AddTruths(const v1::ConditionTrace& trace, std::vector<Truth>& singles) {
  if (trace.part().empty()) singles.push_back(trace.truth());
  for (const v1::ConditionTrace& part : trace.part()) AddTruths(part, singles);
}

// `next` is the first single condition not yet met.
Truth FoldFrom(const v1::Condition& condition,
               const std::vector<Truth>& singles, size_t& next,
               std::vector<Truth>* parts) {
  const size_t here = parts == nullptr ? 0 : parts->size();
  if (parts != nullptr) parts->push_back(v1::TRUTH_UNKNOWN);
  Truth truth = v1::TRUTH_UNKNOWN;
  if (const v1::Conditions* list = ListIn(condition)) {
    const bool all = condition.has_all_of();
    truth = TruthOf(all);
    for (const v1::Condition& part : list->condition()) {
      const Truth found = FoldFrom(part, singles, next, parts);
      truth = all ? And(truth, found) : Or(truth, found);
    }
  } else if (condition.has_not_()) {
    truth = Not(FoldFrom(condition.not_(), singles, next, parts));
  } else {
    truth = singles[next++];
  }
  if (parts != nullptr) (*parts)[here] = truth;
  return truth;
}

}  // namespace

std::vector<const v1::Condition*> SinglesOf(const v1::Condition& condition) {
  std::vector<const v1::Condition*> singles;
  AddSingles(condition, singles);
  return singles;
}

std::vector<Truth> SinglesIn(const v1::ConditionTrace& trace) {
  std::vector<Truth> singles;
  AddTruths(trace, singles);
  return singles;
}

Truth Fold(const v1::Condition& condition, const std::vector<Truth>& singles,
           std::vector<Truth>* parts) {
  size_t next = 0;
  return FoldFrom(condition, singles, next, parts);
}

bool Matters(const v1::Condition& condition, std::vector<Truth> singles,
             size_t at) {
  const Truth as_it_is = Fold(condition, singles);
  singles[at] = Not(singles[at]);
  return Fold(condition, singles) != as_it_is;
}

}  // namespace turnstone

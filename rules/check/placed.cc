#include "rules/check/placed.h"

namespace turnstone {
namespace {

void AddPlaced(const v1::Condition& condition, const Place& place,
               std::vector<PlacedCondition>& placed) {
  const Place at = place.At(condition.GetDescriptor()
                                ->FindFieldByNumber(condition.kind_case())
                                ->name());
  const size_t here = placed.size();
  placed.push_back({&condition, at});
  const v1::Conditions& list =
      condition.has_all_of() ? condition.all_of() : condition.any_of();
  for (int i = 0; i < list.condition_size(); ++i) {
    AddPlaced(list.condition(i), at.At("condition", i), placed);
  }
  if (condition.has_not_()) AddPlaced(condition.not_(), at, placed);
  placed[here].parts = placed.size() - here - 1;
}

}  // namespace

std::vector<PlacedCondition> PlacedConditions(const v1::Condition& condition,
                                              const Place& place) {
  std::vector<PlacedCondition> placed;
  AddPlaced(condition, place, placed);
  return placed;
}

}  // namespace turnstone

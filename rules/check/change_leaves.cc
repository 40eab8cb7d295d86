#include "rules/check/change_leaves.h"

#include "rules/engine/condition.h"

namespace turnstone {
namespace {

ChangeAlarm::Kind KindOf(v1::ComparedWith than) {
  if (than == v1::COMPARED_WITH_PREVIOUS) {
    return ChangeAlarm::Kind::kThanPrevious;
  }
  return than == v1::COMPARED_WITH_BEST ? ChangeAlarm::Kind::kThanBest
                                        : ChangeAlarm::Kind::kThanBaseline;
}

// Better and worse are alike when the state never changes, save that the best
// of many is hard to better.
ChangeLeaf ChangeOf(const v1::Condition& condition,
                    const v1::ChangeCondition& change) {
  ChangeLeaf leaf{&condition, change.instrument(), std::nullopt, ""};
  if (change.has_at_least_percent()) {
    leaf.note = "a share depends on the total somebody starts from";
  } else if (condition.has_better_by() &&
             change.than() == v1::COMPARED_WITH_BEST) {
    leaf.note =
        "better than every total before; at most as often as better "
        "than the baseline";
  } else {
    leaf.alarm = ChangeAlarm{KindOf(change.than()),
                             static_cast<double>(change.at_least().value()),
                             static_cast<int>(RowLength(change.in_a_row())), 0};
  }
  return leaf;
}

std::optional<ChangeLeaf> LeafOf(const v1::Condition& condition) {
  if (condition.has_worse_by()) {
    return ChangeOf(condition, condition.worse_by());
  }
  if (condition.has_better_by()) {
    return ChangeOf(condition, condition.better_by());
  }
  if (condition.has_worse_in_a_row()) {
    const v1::RisesCondition& rises = condition.worse_in_a_row();
    return ChangeLeaf{
        &condition, rises.instrument(),
        ChangeAlarm{ChangeAlarm::Kind::kRises, 0, rises.times().value(), 0},
        ""};
  }
  if (condition.has_trend()) {
    const v1::TrendCondition& trend = condition.trend();
    return ChangeLeaf{&condition, trend.instrument(),
                      ChangeAlarm{ChangeAlarm::Kind::kTrend, 0, 1,
                                  trend.p_at_most().value() / 1000.0},
                      ""};
  }
  if (condition.has_outcome()) {
    return ChangeLeaf{&condition, condition.outcome().instrument(),
                      std::nullopt,
                      "as often, each time it is asked, as a change by its "
                      "reliable change from the baseline at one follow-up"};
  }
  return std::nullopt;
}

void Collect(const v1::Condition& condition, bool negated,
             std::vector<ChangeLeaf>& leaves) {
  if (condition.has_not_()) return Collect(condition.not_(), !negated, leaves);
  for (const v1::Condition& part : condition.all_of().condition()) {
    Collect(part, negated, leaves);
  }
  for (const v1::Condition& part : condition.any_of().condition()) {
    Collect(part, negated, leaves);
  }
  std::optional<ChangeLeaf> leaf = LeafOf(condition);
  if (!leaf) return;
  if (negated) {
    leaf->alarm.reset();
    leaf->note =
        "speaks where there is no such change, so of nearly everybody whose "
        "state never changes: that is what it is for";
  }
  leaves.push_back(*std::move(leaf));
}

}  // namespace

std::vector<ChangeLeaf> ChangeLeaves(const v1::Condition& condition) {
  std::vector<ChangeLeaf> leaves;
  Collect(condition, false, leaves);
  return leaves;
}

}  // namespace turnstone

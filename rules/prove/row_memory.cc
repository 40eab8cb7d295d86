#include "rules/prove/row_memory.h"

#include <algorithm>

#include "rules/prove/leaves.h"

namespace turnstone {
namespace {

void Raise(int& to, int at_least) { to = std::max(to, at_least); }

int RowOf(const v1::Number& in_a_row) {
  return in_a_row.has_value() ? in_a_row.value() : 1;
}

void AddChange(const v1::ChangeCondition& change, RowMemory& memory) {
  const int row = RowOf(change.in_a_row());
  switch (change.than()) {
    case v1::COMPARED_WITH_PREVIOUS:
      return Raise(memory.last, row);
    case v1::COMPARED_WITH_BEST:
      memory.best = true;
      return Raise(memory.last_with_best, row - 1);
    default:
      memory.baseline = true;
      return Raise(memory.last_with_baseline, row - 1);
  }
}

bool KindHasMemory(v1::Condition::KindCase kind) {
  switch (kind) {
    case v1::Condition::kScore:
    case v1::Condition::kItem:
    case v1::Condition::kItemUnanswered:
    case v1::Condition::kTotalDisagrees:
    case v1::Condition::kWilling:
    case v1::Condition::kWishRecorded:
    case v1::Condition::kEnrolled:
    case v1::Condition::kWorseBy:
    case v1::Condition::kBetterBy:
    case v1::Condition::kWorseInARow:
    case v1::Condition::kMissedInARow:
    case v1::Condition::kSelfHarmEarlier:
    case v1::Condition::kVisitAccountedFor:
    case v1::Condition::kAttendedVisits:
    case v1::Condition::kConfidenceBelow:
    case v1::Condition::kScreenedWithin:
    case v1::Condition::kOutcome:
    case v1::Condition::kScreenings:
    case v1::Condition::kResult:
    case v1::Condition::kContactSince:
    case v1::Condition::kDischargedAs:
      return true;
    default:
      return false;
  }
}

// Conditions on the forms of the row.
void AddLeafOnForms(const v1::Condition& leaf, const std::string& instrument,
                    RowMemory& memory) {
  if (leaf.score().instrument() == instrument) {
    Raise(memory.last, RowOf(leaf.score().in_a_row()) - 1);
  }
  if (leaf.worse_in_a_row().instrument() == instrument) {
    Raise(memory.last, leaf.worse_in_a_row().times().value());
  }
  if (leaf.worse_by().instrument() == instrument) {
    AddChange(leaf.worse_by(), memory);
  }
  if (leaf.better_by().instrument() == instrument) {
    AddChange(leaf.better_by(), memory);
  }
  if (leaf.outcome().instrument() == instrument) memory.baseline = true;
  if (leaf.screenings().instrument() == instrument) {
    memory.counts.push_back(leaf.screenings());
  }
  if (leaf.has_self_harm_earlier()) {
    Raise(memory.self_harm_days,
          leaf.self_harm_earlier().within_days().value());
  }
  if (leaf.has_screened_within()) {
    Raise(memory.screened_days, leaf.screened_within().days().value());
  }
}

}  // namespace

bool HasMemory(const v1::Condition& condition) {
  bool all = true;
  ForEachLeaf(condition, [&](const v1::Condition& leaf) {
    all = all && KindHasMemory(leaf.kind_case());
  });
  return all;
}

void AddMemory(const v1::Condition& condition, const std::string& instrument,
               int planned_visits, RowMemory& memory) {
  ForEachLeaf(condition, [&](const v1::Condition& leaf) {
    if (!instrument.empty()) return AddLeafOnForms(leaf, instrument, memory);
    if (leaf.has_missed_in_a_row()) {
      Raise(memory.missed, leaf.missed_in_a_row().at_least().value());
    }
    if (leaf.has_attended_visits()) {
      Raise(memory.attended, leaf.attended_visits().has_at_least()
                                 ? leaf.attended_visits().at_least().value()
                                 : planned_visits);
    }
  });
}

}  // namespace turnstone

#include "rules/engine/can_be_unknown.h"

#include <algorithm>

namespace turnstone {
namespace {

// What cannot be told only while it was not asked is a plain no beside "it was
// asked".
bool Settles(const v1::Condition& beside, const v1::Condition& part) {
  if (part.has_not_()) return Settles(beside, part.not_());
  if (part.has_willing()) return beside.has_wish_recorded();
  if (!part.has_item() || !beside.not_().has_item_unanswered()) return false;
  const v1::ItemUnanswered& unanswered = beside.not_().item_unanswered();
  return unanswered.self_harm() == part.item().self_harm() &&
         unanswered.question() == part.item().question();
}

bool AnyCanBeUnknown(const v1::Conditions& list) {
  return std::any_of(list.condition().begin(), list.condition().end(),
                     CanBeUnknown);
}

bool AllOfCanBeUnknown(const v1::Conditions& list) {
  const auto& parts = list.condition();
  return std::any_of(parts.begin(), parts.end(), [&](const auto& part) {
    return CanBeUnknown(part) &&
           std::none_of(parts.begin(), parts.end(), [&](const auto& beside) {
             return Settles(beside, part);
           });
  });
}

}  // namespace

bool CanBeUnknown(const v1::Condition& condition) {
  switch (condition.kind_case()) {
    case v1::Condition::kAllOf:
      return AllOfCanBeUnknown(condition.all_of());
    case v1::Condition::kAnyOf:
      return AnyCanBeUnknown(condition.any_of());
    case v1::Condition::kNot:
      return CanBeUnknown(condition.not_());
    case v1::Condition::kScreenings:
      return condition.screenings().has_total_at_most();
    case v1::Condition::kItemUnanswered:
    case v1::Condition::kTotalDisagrees:
    case v1::Condition::kWishRecorded:
    case v1::Condition::kEnrolled:
    case v1::Condition::kContactSince:
    case v1::Condition::kDischargedAs:
    case v1::Condition::kMissedInARow:
    case v1::Condition::kVisitAccountedFor:
    case v1::Condition::kAttendedVisits:
    case v1::Condition::kScreenedWithin:
      return false;
    case v1::Condition::kScore:
    case v1::Condition::kItem:
    case v1::Condition::kResult:
    case v1::Condition::kWilling:
    case v1::Condition::kWorseBy:
    case v1::Condition::kBetterBy:
    case v1::Condition::kTrend:
    case v1::Condition::kOutcome:
    case v1::Condition::kWorseInARow:
    case v1::Condition::kSelfHarmEarlier:
    case v1::Condition::kConfidenceBelow:
    case v1::Condition::KIND_NOT_SET:
      break;
  }
  return true;
}

}  // namespace turnstone

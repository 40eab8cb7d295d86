#include "rules/check/check_condition.h"

#include <absl/strings/str_cat.h>

#include <array>

#include "rules/check/check_course.h"
#include "rules/check/require.h"

namespace turnstone {
namespace {

constexpr int kDeepestCondition = 20;

// Conditions that look at the event itself, and so need one of that kind.
struct Need {
  v1::Condition::KindCase kind;
  v1::Occasion::EventCase event;
};
constexpr std::array kNeeds = {
    Need{v1::Condition::kItem, v1::Occasion::kScreening},
    Need{v1::Condition::kItemUnanswered, v1::Occasion::kScreening},
    Need{v1::Condition::kTotalDisagrees, v1::Occasion::kScreening},
    Need{v1::Condition::kWilling, v1::Occasion::kScreening},
    Need{v1::Condition::kWishRecorded, v1::Occasion::kScreening},
    Need{v1::Condition::kResult, v1::Occasion::kScreening},
    Need{v1::Condition::kVisitAccountedFor, v1::Occasion::kVisitPlanned},
    Need{v1::Condition::kMissedInARow, v1::Occasion::kVisitOutcome},
    Need{v1::Condition::kConfidenceBelow, v1::Occasion::kPracticeReport},
};

std::string FieldName(const google::protobuf::Message& message, int number) {
  return message.GetDescriptor()->FindFieldByNumber(number)->name();
}

void CheckOccasion(const v1::Condition& condition, const Place& place,
                   const v1::Occasion& when) {
  if (when.event_case() == v1::Occasion::EVENT_NOT_SET) return;
  for (const Need& need : kNeeds) {
    if (condition.kind_case() != need.kind) continue;
    if (when.event_case() == need.event) continue;
    const std::string kind = FieldName(condition, need.kind);
    const std::string needed = FieldName(when, need.event);
    place.At(kind).Report("condition-does-not-fit-event",
                          absl::StrCat(kind, " looks at a ", needed,
                                       ", but the rule is asked about a ",
                                       FieldName(when, when.event_case())),
                          absl::StrCat("write when { ", needed,
                                       " { ... } }, or use another condition"));
  }
}

void CheckParts(const v1::Conditions& parts, const Place& place,
                const RuleContext& rule, int depth) {
  if (parts.condition().empty()) {
    place.Report("condition-empty", "there is no condition in it",
                 "add condition { ... }, once or more");
  }
  for (int i = 0; i < parts.condition_size(); ++i) {
    CheckCondition(parts.condition(i), place.At("condition", i), rule,
                   depth + 1);
  }
}

void CheckScore(const v1::ScoreCondition& score, const Place& place,
                const RuleContext& rule) {
  NumberPlace points{"points", std::nullopt};
  const Scale* scale = CheckScored(score.instrument(), place, rule);
  if (scale != nullptr) points.range = scale->Range();
  CheckInARow(score, place, rule);
  if (!score.has_at_least() && !score.has_at_most()) {
    place.Report("range-without-ends",
                 "the range has neither a lower nor an upper end",
                 "write at_least { ... } or at_most { ... } or both");
    return;
  }
  std::optional<int> low;
  std::optional<int> high;
  if (score.has_at_least()) {
    low = CheckNumber(place, "at_least", points, rule.settings);
  }
  if (score.has_at_most()) {
    high = CheckNumber(place, "at_most", points, rule.settings);
  }
  if (low && high && *low > *high) {
    place.Report(
        "range-upside-down",
        absl::StrCat("no total is at least ", *low, " and at most ", *high),
        "swap at_least and at_most");
  }
}

void CheckScreenedWithin(const v1::ScreenedWithin& screened, const Place& place,
                         const RuleContext& rule) {
  CheckInstruments(screened.instrument(), place, rule.known);
  if (!screened.since()) {
    CheckNumber(place, "days", {"days", Interval{0, 3650}}, rule.settings);
  } else if (screened.has_days() || screened.before_asking()) {
    place.At("since").Report("fields-exclude-each-other",
                             "since stands beside a number of days",
                             "keep since: true, or days { ... }");
  }
}

// `at` is where the condition of that kind stands.
void CheckKind(const v1::Condition& condition, const Place& at,
               const RuleContext& rule, int depth) {
  const auto number = [&](const char* field, const char* unit, int low,
                          int high) {
    CheckNumber(at, field, {unit, Interval{low, high}}, rule.settings);
  };
  switch (condition.kind_case()) {
    case v1::Condition::kAllOf:
      return CheckParts(condition.all_of(), at, rule, depth);
    case v1::Condition::kAnyOf:
      return CheckParts(condition.any_of(), at, rule, depth);
    case v1::Condition::kNot:
      return CheckCondition(condition.not_(), at, rule, depth + 1);
    case v1::Condition::kScore:
      return CheckScore(condition.score(), at, rule);
    case v1::Condition::kItem:
      return CheckItem(condition.item(), at, rule);
    case v1::Condition::kItemUnanswered:
      return CheckItem(condition.item_unanswered(), at, rule);
    case v1::Condition::kWorseBy:
      return CheckChange(condition.worse_by(), at, rule);
    case v1::Condition::kBetterBy:
      return CheckChange(condition.better_by(), at, rule);
    case v1::Condition::kTrend:
      return CheckTrend(condition.trend(), at, rule);
    case v1::Condition::kOutcome:
      return CheckOutcome(condition.outcome(), at, rule);
    case v1::Condition::kScreenings:
      return CheckScreenings(condition.screenings(), at, rule);
    case v1::Condition::kResult:
      return CheckResult(condition.result(), at, rule);
    case v1::Condition::kDischargedAs:
      RequireChoices(at, "reason");
      return;
    case v1::Condition::kWorseInARow:
      CheckScored(condition.worse_in_a_row().instrument(), at, rule);
      return number("times", "visits", 1, 20);
    case v1::Condition::kMissedInARow:
      return number("at_least", "visits", 1, 20);
    case v1::Condition::kSelfHarmEarlier:
      return number("within_days", "days", 1, 3650);
    case v1::Condition::kAttendedVisits:
      if (!condition.attended_visits().has_at_least()) return;
      return number("at_least", "visits", 1, 52);
    case v1::Condition::kConfidenceBelow:
      return number("percent", "percent", 0, 100);
    case v1::Condition::kScreenedWithin:
      return CheckScreenedWithin(condition.screened_within(), at, rule);
    case v1::Condition::kTotalDisagrees:
    case v1::Condition::kWilling:
    case v1::Condition::kWishRecorded:
    case v1::Condition::kEnrolled:
    case v1::Condition::kVisitAccountedFor:
    case v1::Condition::kContactSince:
    case v1::Condition::KIND_NOT_SET:
      return;
  }
}

}  // namespace

void CheckCondition(const v1::Condition& condition, const Place& place,
                    const RuleContext& rule, int depth) {
  if (depth > kDeepestCondition) {
    place.Report("condition-too-deep",
                 absl::StrCat("conditions are nested more than ",
                              kDeepestCondition, " deep"),
                 "write more, simpler rules");
    return;
  }
  if (condition.kind_case() == v1::Condition::KIND_NOT_SET) {
    place.Report(
        "condition-empty", "the condition says nothing",
        absl::StrCat("write one of ", OneOf(MembersOf(condition, "kind"))));
    return;
  }
  CheckOccasion(condition, place, rule.when);
  CheckKind(condition, place.At(FieldName(condition, condition.kind_case())),
            rule, depth);
}

}  // namespace turnstone

#include "rules/check/check_condition.h"

#include <absl/strings/str_cat.h>

#include <array>

#include "rules/check/require.h"

namespace turnstone {
namespace {

constexpr int kDeepest = 20;

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
    place.At(kind).Report(absl::StrCat(kind, " looks at a ", needed,
                                       ", but the rule is asked about a ",
                                       FieldName(when, when.event_case())),
                          absl::StrCat("write when { ", needed,
                                       " { ... } }, or use another condition"));
  }
}

void CheckParts(const v1::Conditions& parts, const Place& place,
                const RuleContext& rule, int depth) {
  if (parts.condition().empty()) {
    place.Report("there is no condition in it",
                 "add condition { ... }, once or more");
  }
  for (int i = 0; i < parts.condition_size(); ++i) {
    CheckCondition(parts.condition(i), place.At("condition", i), rule,
                   depth + 1);
  }
}

// Range of the instrument in the field "instrument" of the message at `place`;
// absent if it is not known.
std::optional<Interval> CheckInstrument(const std::string& instrument,
                                        const Place& place,
                                        const RuleContext& rule) {
  if (!RequireText(place, "instrument", "the id of an instrument")) {
    return std::nullopt;
  }
  const Scale* scale = Lookup(rule.known.instruments, rule.known.complete,
                              "instrument", instrument, place.At("instrument"));
  if (scale == nullptr) return std::nullopt;
  return scale->Range();
}

void CheckScore(const v1::ScoreCondition& score, const Place& place,
                const RuleContext& rule) {
  const NumberPlace points{"points",
                           CheckInstrument(score.instrument(), place, rule)};
  if (!score.has_at_least() && !score.has_at_most()) {
    place.Report("the range has neither a lower nor an upper end",
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
        absl::StrCat("no total is at least ", *low, " and at most ", *high),
        "swap at_least and at_most");
  }
}

void CheckChange(const v1::ChangeCondition& change, const Place& place,
                 const RuleContext& rule) {
  NumberPlace points{"points", std::nullopt};
  if (const auto range = CheckInstrument(change.instrument(), place, rule)) {
    points.range = Interval{1, range->high - range->low};
  }
  RequireChoice(place, "than");
  CheckNumber(place, "at_least", points, rule.settings);
}

void CheckScreenedWithin(const v1::ScreenedWithin& screened, const Place& place,
                         const RuleContext& rule) {
  CheckInstruments(screened.instrument(), place, rule.known);
  CheckNumber(place, "days", {"days", Interval{0, 3650}}, rule.settings);
}

}  // namespace

void CheckCondition(const v1::Condition& condition, const Place& place,
                    const RuleContext& rule, int depth) {
  if (depth > kDeepest) {
    place.Report(
        absl::StrCat("conditions are nested more than ", kDeepest, " deep"),
        "write more, simpler rules");
    return;
  }
  CheckOccasion(condition, place, rule.when);
  const auto number = [&](const char* field, const char* unit, int low,
                          int high) {
    const std::string kind = FieldName(condition, condition.kind_case());
    CheckNumber(place.At(kind), field, {unit, Interval{low, high}},
                rule.settings);
  };
  switch (condition.kind_case()) {
    case v1::Condition::kAllOf:
      return CheckParts(condition.all_of(), place.At("all_of"), rule, depth);
    case v1::Condition::kAnyOf:
      return CheckParts(condition.any_of(), place.At("any_of"), rule, depth);
    case v1::Condition::kNot:
      return CheckCondition(condition.not_(), place.At("not"), rule, depth + 1);
    case v1::Condition::kScore:
      return CheckScore(condition.score(), place.At("score"), rule);
    case v1::Condition::kItem:
      return CheckItem(condition.item(), place.At("item"), rule);
    case v1::Condition::kItemUnanswered:
      return CheckItem(condition.item_unanswered(), place.At("item_unanswered"),
                       rule);
    case v1::Condition::kWorseBy:
      return CheckChange(condition.worse_by(), place.At("worse_by"), rule);
    case v1::Condition::kWorseInARow:
      CheckInstrument(condition.worse_in_a_row().instrument(),
                      place.At("worse_in_a_row"), rule);
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
      return CheckScreenedWithin(condition.screened_within(),
                                 place.At("screened_within"), rule);
    case v1::Condition::kTotalDisagrees:
    case v1::Condition::kWilling:
    case v1::Condition::kEnrolled:
    case v1::Condition::kVisitAccountedFor:
      return;
    case v1::Condition::KIND_NOT_SET:
      return place.Report(
          "the condition says nothing",
          absl::StrCat("write one of ", OneOf(MembersOf(condition, "kind"))));
  }
}

}  // namespace turnstone

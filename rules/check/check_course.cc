#include "rules/check/check_course.h"

#include <absl/strings/str_cat.h>

#include <vector>

#include "rules/check/require.h"

namespace turnstone {
namespace {

// Points by which two totals of the instrument can differ; absent if unknown.
std::optional<Interval> Differences(const Scale* scale) {
  if (scale == nullptr) return std::nullopt;
  return Interval{1, scale->Range().high - scale->Range().low};
}

// A share of a total means something only where 0 is nothing and more is worse.
void CheckShare(const Scale* scale, const Place& at) {
  if (scale == nullptr) return;
  const bool worse_is_higher =
      scale->definition().direction() == v1::DIRECTION_HIGHER_IS_WORSE;
  if (worse_is_higher && scale->Range().low == 0) return;
  at.Report("percent-has-no-meaning",
            absl::StrCat("a share of a total of ", scale->definition().name(),
                         " has no meaning: ",
                         worse_is_higher ? "its lowest total is not 0"
                                         : "higher is better"),
            "use worse_by or better_by with at_least { ... } in points");
}

}  // namespace

const Scale* CheckInstrument(const std::string& instrument, const Place& place,
                             const RuleContext& rule) {
  if (!RequireText(place, "instrument", "the id of an instrument")) {
    return nullptr;
  }
  return Lookup(rule.known.instruments, rule.known.complete, "instrument",
                instrument, place.At("instrument"));
}

const Scale* CheckScored(const std::string& instrument, const Place& place,
                         const RuleContext& rule) {
  const Scale* scale = CheckInstrument(instrument, place, rule);
  if (scale == nullptr || scale->HasItems()) return scale;
  place.At("instrument")
      .Report("instrument-without-total",
              absl::StrCat("\"", instrument, "\" keeps a result, not a total"),
              "name an instrument with items, or use the condition result");
  return nullptr;
}

void CheckChange(const v1::ChangeCondition& change, const Place& place,
                 const RuleContext& rule) {
  const Scale* scale = CheckScored(change.instrument(), place, rule);
  RequireChoice(place, "than");
  CheckInARow(change, place, rule);
  if (change.has_at_least() && change.has_at_least_percent()) {
    place.At("at_least_percent")
        .Report("fields-exclude-each-other",
                "both at_least and at_least_percent are written",
                "keep one of them");
  } else if (change.has_at_least_percent()) {
    CheckNumber(place, "at_least_percent", {"percent", Interval{1, 100}},
                rule.settings);
    CheckShare(scale, place.At("at_least_percent"));
  } else {
    CheckNumber(place, "at_least",
                {"points", Differences(scale), change.instrument()},
                rule.settings);
  }
}

void CheckTrend(const v1::TrendCondition& trend, const Place& place,
                const RuleContext& rule) {
  CheckScored(trend.instrument(), place, rule);
  RequireChoice(place, "direction");
  CheckNumber(place, "p_at_most", {"per thousand", Interval{1, 500}},
              rule.settings);
}

void CheckOutcome(const v1::OutcomeCondition& outcome, const Place& place,
                  const RuleContext& rule) {
  const Scale* scale = CheckScored(outcome.instrument(), place, rule);
  CheckShare(scale, place.At("instrument"));
  RequireChoices(place, "is");
  NumberPlace points{"points", std::nullopt};
  if (scale != nullptr) points.range = scale->Range();
  CheckNumber(place, "remission_at_most", points, rule.settings);
  CheckNumber(place, "response_percent", {"percent", Interval{1, 100}},
              rule.settings);
  CheckNumber(place, "reliable_change",
              {"points", Differences(scale), outcome.instrument()},
              rule.settings);
}

void CheckScreenings(const v1::ScreeningCount& screenings, const Place& place,
                     const RuleContext& rule) {
  CheckNumber(place, "at_least", {"visits", Interval{1, 100}}, rule.settings);
  if (!screenings.has_total_at_most()) {
    CheckInstrument(screenings.instrument(), place, rule);
    return;
  }
  NumberPlace points{"points", std::nullopt};
  const Scale* scale = CheckScored(screenings.instrument(), place, rule);
  if (scale != nullptr) points.range = scale->Range();
  CheckNumber(place, "total_at_most", points, rule.settings);
}

void CheckResult(const v1::ResultCondition& result, const Place& place,
                 const RuleContext& rule) {
  if (result.code().empty()) {
    place.Report("result-not-named", "no result is named",
                 "write code: \"...\", once or more");
  }
  for (const std::string& id : rule.when.screening().instrument()) {
    const auto known = rule.known.instruments.find(id);
    if (known == rule.known.instruments.end() || !known->second) continue;
    std::vector<std::string> codes;
    for (const v1::Result& it : known->second->definition().result()) {
      codes.push_back(it.code());
    }
    for (int i = 0; i < result.code_size(); ++i) {
      if (known->second->FindResult(result.code(i)) != nullptr) continue;
      place.At("code", i).Report(
          "unknown-name",
          absl::StrCat("\"", id, "\" has no result \"", result.code(i), "\""),
          codes.empty() ? "ask about an instrument that has results"
                        : Suggest(result.code(i), codes));
    }
  }
}

}  // namespace turnstone

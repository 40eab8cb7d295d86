// Clauses on forms: their totals, items and course.
#include <absl/strings/str_cat.h>

#include "rules/engine/clauses.h"
#include "rules/engine/wording.h"

namespace turnstone {
namespace {

// What is said of a total, said of so many of the latest ones where the
// condition wants a row of them.
Clause OfTotals(const std::string& instrument, const v1::Number& in_a_row,
                const Clause& one, const RuleTerms& terms) {
  const std::string total = terms.Total(instrument);
  if (!in_a_row.has_value() && !in_a_row.has_setting()) {
    return {total, one.holds, one.fails};
  }
  const std::string row = absl::StrCat(
      "each of the latest ",
      terms.Number(in_a_row, terms.Instrument(instrument) + " total"), " ",
      one.holds);
  return {"", row, absl::StrCat("not ", row, " (or there are fewer)")};
}

std::string ComparedInWords(v1::ComparedWith than) {
  switch (than) {
    case v1::COMPARED_WITH_BASELINE:
      return "at the baseline";
    case v1::COMPARED_WITH_PREVIOUS:
      return "the one before";
    case v1::COMPARED_WITH_BEST:
      return "the best one before";
    default:
      return "an earlier one";
  }
}

std::string WayInWords(v1::TrendDirection direction) {
  switch (direction) {
    case v1::TREND_DIRECTION_WORSENING:
      return " get worse";
    case v1::TREND_DIRECTION_IMPROVING:
      return " get better";
    default:
      return " go one way";
  }
}

}  // namespace

Clause ScoreClause(const v1::ScoreCondition& condition,
                   const RuleTerms& terms) {
  const std::string low = terms.Number(condition.at_least());
  const std::string high = terms.Number(condition.at_most());
  Clause one;
  if (condition.has_at_least() && condition.has_at_most()) {
    one = {"", absl::StrCat("is ", low, " to ", high),
           absl::StrCat("is not ", low, " to ", high)};
  } else if (condition.has_at_most()) {
    one = {"", absl::StrCat("is ", high, " or less"),
           absl::StrCat("is more than ", high)};
  } else {
    one = {"", absl::StrCat("is ", low, " or more"),
           absl::StrCat("is less than ", low)};
  }
  return OfTotals(condition.instrument(), condition.in_a_row(), one, terms);
}

Clause ItemClause(const v1::ItemCondition& condition, const RuleTerms& terms) {
  const std::string least = terms.Number(condition.at_least());
  return {terms.Item(condition.self_harm(), condition.question()),
          absl::StrCat("scores ", least, " or more"),
          absl::StrCat("scores less than ", least)};
}

Clause UnansweredClause(const v1::ItemUnanswered& condition,
                        const RuleTerms& terms) {
  return {terms.Item(condition.self_harm(), condition.question()),
          "was not answered", "was answered"};
}

Clause ResultClause(const v1::ResultCondition& condition,
                    const RuleTerms& terms) {
  const std::string results = terms.Results(condition.code());
  return {"the result", absl::StrCat("is ", results),
          absl::StrCat("is not ", results)};
}

Clause ChangeClause(const v1::ChangeCondition& condition,
                    const std::string& way, const RuleTerms& terms) {
  const std::string amount =
      condition.has_at_least_percent()
          ? terms.Number(condition.at_least_percent(), "%")
          : terms.Number(condition.at_least(), "point");
  const std::string differs =
      absl::StrCat(way, " than ", ComparedInWords(condition.than()), " by ",
                   amount, " or more");
  return OfTotals(
      condition.instrument(), condition.in_a_row(),
      {"", absl::StrCat("is ", differs),
       absl::StrCat("is not ", differs, " (or there is no earlier one)")},
      terms);
}

Clause TrendClause(const v1::TrendCondition& condition,
                   const RuleTerms& terms) {
  const std::string trend =
      absl::StrCat(WayInWords(condition.direction()),
                   " more steadily than by chance (Mann-Kendall, p at most ",
                   terms.Value(condition.p_at_most()) / 1000.0,
                   terms.Whose(condition.p_at_most()), ")");
  const std::string totals =
      absl::StrCat("the ", terms.Instrument(condition.instrument()),
                   " totals from the baseline on");
  return {"", absl::StrCat(totals, trend),
          absl::StrCat(totals, " do not", trend)};
}

Clause OutcomeClause(const v1::OutcomeCondition& condition,
                     const RuleTerms& terms) {
  std::vector<std::string> outcomes;
  for (const int outcome : condition.is()) {
    outcomes.push_back(CourseInWords(static_cast<v1::CourseOutcome>(outcome)));
  }
  const std::string named = absl::StrCat(
      Quoted(outcomes),
      " [remission: ", terms.Number(condition.remission_at_most()),
      " or less; response: ", terms.Number(condition.response_percent(), "%"),
      " lower or more; reliable change: ",
      terms.Number(condition.reliable_change(), "point"), " or more]");
  return {absl::StrCat("the ", terms.Instrument(condition.instrument()),
                       " course since the baseline"),
          absl::StrCat("is ", named),
          absl::StrCat("is not ", named, " (or there is no earlier one)")};
}

Clause RisesClause(const v1::RisesCondition& condition,
                   const RuleTerms& terms) {
  const std::string row = absl::StrCat(
      "become worse ", terms.Number(condition.times(), "time"), " in a row");
  return {terms.Total(condition.instrument()), absl::StrCat("has ", row),
          absl::StrCat("has not ", row)};
}

}  // namespace turnstone

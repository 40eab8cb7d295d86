// Clauses on what the record holds besides the form asked about.
#include <absl/strings/str_cat.h>

#include "rules/engine/clauses.h"
#include "rules/engine/wording.h"

namespace turnstone {

Clause ScreeningsClause(const v1::ScreeningCount& condition,
                        const RuleTerms& terms) {
  const std::string count =
      terms.Number(condition.at_least(),
                   terms.Instrument(condition.instrument()) + " screening");
  const std::string so_far =
      condition.has_total_at_most()
          ? absl::StrCat(" with a total of ",
                         terms.Number(condition.total_at_most()),
                         " or less so far")
          : " so far";
  return {"", absl::StrCat("there are ", count, " or more", so_far),
          absl::StrCat("there are fewer than ", count, so_far)};
}

Clause ContactClause(const RuleTerms& terms) {
  const std::string after = absl::StrCat("contact after ", terms.Event().the);
  return {"", absl::StrCat("there was a ", after),
          absl::StrCat("there was no ", after)};
}

Clause DischargedClause(const v1::DischargedAs& condition) {
  std::vector<std::string> reasons;
  for (const int reason : condition.reason()) {
    reasons.push_back(
        DischargeInWords(static_cast<v1::DischargeReason>(reason)));
  }
  const std::string discharged =
      absl::StrCat("discharged as ", Quoted(reasons));
  return {"", absl::StrCat("the participant was ", discharged),
          absl::StrCat("the participant was not ", discharged)};
}

Clause MissedClause(const v1::MissedInARow& condition, const RuleTerms& terms) {
  const std::string visits = terms.Number(condition.at_least(), "visit");
  return {
      "", absl::StrCat("the participant missed ", visits, " or more in a row"),
      absl::StrCat("the participant missed fewer than ", visits, " in a row")};
}

Clause SelfHarmClause(const v1::SelfHarmEarlier& condition,
                      const RuleTerms& terms) {
  const std::string positive =
      absl::StrCat(" self-harm item was positive within the last ",
                   terms.Number(condition.within_days(), "day"));
  return {"", absl::StrCat("a", positive), absl::StrCat("no", positive)};
}

Clause AttendedClause(const v1::AttendedVisits& condition,
                      const RuleTerms& terms) {
  const std::string by = condition.by_asking() ? " by then" : "";
  if (!condition.has_at_least()) {
    return {"", absl::StrCat("the participant attended all planned visits", by),
            absl::StrCat("the participant has not attended all planned visits",
                         by)};
  }
  const std::string visits = terms.Number(condition.at_least(), "visit");
  return {"", absl::StrCat("the participant attended ", visits, " or more", by),
          absl::StrCat("the participant attended fewer than ", visits, by)};
}

Clause ConfidenceClause(const v1::ConfidenceBelow& condition,
                        const RuleTerms& terms) {
  const std::string percent = terms.Number(condition.percent(), "%");
  return {"the confidence in doing the practice",
          absl::StrCat("is below ", percent),
          absl::StrCat("is ", percent, " or more")};
}

Clause ScreenedClause(const v1::ScreenedWithin& condition,
                      const RuleTerms& terms) {
  const v1::Number& days = condition.days();
  const std::string the = terms.Event().the;
  std::string when =
      absl::StrCat("from ", terms.Number(days, "day"), " before ", the, " on");
  if (condition.before_asking()) {
    when = absl::StrCat("within the last ", terms.Number(days, "day"));
  } else if (condition.since()) {
    when = absl::StrCat("since ", the);
  } else if (days.value() == 0 && !days.has_setting()) {
    when = absl::StrCat("from the day of ", the, " on");
  }
  const std::string forms = terms.Instruments(condition.instrument());
  const std::string done = absl::StrCat(" was done ", when);
  if (terms.AsksAbout(condition.instrument())) {
    return {"", absl::StrCat("another ", forms, done),
            absl::StrCat("no other ", forms, done)};
  }
  return {"", absl::StrCat(WithArticle(forms), done),
          absl::StrCat("no ", forms, done)};
}

}  // namespace turnstone

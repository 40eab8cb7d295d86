#include "rules/engine/condition_words.h"

#include <absl/strings/str_cat.h>

#include "rules/engine/clauses.h"

namespace turnstone {
namespace {

// No default: a new kind of condition does not compile without its words.
Clause ClauseFor(const v1::Condition& condition, const RuleTerms& terms) {
  switch (condition.kind_case()) {
    case v1::Condition::kScore:
      return ScoreClause(condition.score(), terms);
    case v1::Condition::kItem:
      return ItemClause(condition.item(), terms);
    case v1::Condition::kItemUnanswered:
      return UnansweredClause(condition.item_unanswered(), terms);
    case v1::Condition::kTotalDisagrees:
      return {"", "the reported total cannot come from the answers",
              "no reported total disagrees with the answers"};
    case v1::Condition::kWilling:
      return {"", "the participant wants the programme",
              "the participant does not want the programme"};
    case v1::Condition::kWishRecorded:
      return {"", "it is recorded whether the participant wants the programme",
              "it is not recorded whether the participant wants the programme"};
    case v1::Condition::kEnrolled:
      return {"", "the participant is enrolled",
              "the participant is not enrolled"};
    case v1::Condition::kWorseBy:
      return ChangeClause(condition.worse_by(), "worse", terms);
    case v1::Condition::kBetterBy:
      return ChangeClause(condition.better_by(), "better", terms);
    case v1::Condition::kTrend:
      return TrendClause(condition.trend(), terms);
    case v1::Condition::kOutcome:
      return OutcomeClause(condition.outcome(), terms);
    case v1::Condition::kScreenings:
      return ScreeningsClause(condition.screenings(), terms);
    case v1::Condition::kResult:
      return ResultClause(condition.result(), terms);
    case v1::Condition::kContactSince:
      return ContactClause(terms);
    case v1::Condition::kDischargedAs:
      return DischargedClause(condition.discharged_as());
    case v1::Condition::kWorseInARow:
      return RisesClause(condition.worse_in_a_row(), terms);
    case v1::Condition::kMissedInARow:
      return MissedClause(condition.missed_in_a_row(), terms);
    case v1::Condition::kSelfHarmEarlier:
      return SelfHarmClause(condition.self_harm_earlier(), terms);
    case v1::Condition::kVisitAccountedFor:
      return {"",
              "the planned visit is accounted for (outcome, move or discharge)",
              "the planned visit has no outcome and was not moved, nor was the "
              "participant discharged"};
    case v1::Condition::kAttendedVisits:
      return AttendedClause(condition.attended_visits(), terms);
    case v1::Condition::kConfidenceBelow:
      return ConfidenceClause(condition.confidence_below(), terms);
    case v1::Condition::kScreenedWithin:
      return ScreenedClause(condition.screened_within(), terms);
    case v1::Condition::kAllOf:
    case v1::Condition::kAnyOf:
    case v1::Condition::kNot:
    case v1::Condition::KIND_NOT_SET:
      break;
  }
  return {"", "it cannot be told", "it cannot be told"};
}

// A part of a sentence; `subject` as in Clause.
struct Said {
  std::string subject;
  std::string text;
};

Said Say(const v1::Condition& condition, bool denied, bool nested,
         const RuleTerms& terms);

std::string Join(const v1::Conditions& list, const std::string& link,
                 const RuleTerms& terms) {
  std::string text;
  std::string subject;
  for (const v1::Condition& condition : list.condition()) {
    const Said said = Say(condition, false, true, terms);
    if (!text.empty()) absl::StrAppend(&text, link);
    if (!said.subject.empty()) {
      absl::StrAppend(&text, said.subject == subject ? "it" : said.subject,
                      " ");
    }
    absl::StrAppend(&text, said.text);
    subject = said.subject;
  }
  return text;
}

// Brackets wherever the list stands among others, or something is said of it
// as a whole.
Said SayList(const v1::Conditions& list, bool all, bool denied, bool nested,
             const RuleTerms& terms) {
  if (list.condition_size() == 1) {
    return Say(list.condition(0), denied, nested, terms);
  }
  if (denied) {
    return {"", absl::StrCat(all ? "not all of: (" : "none of: (",
                             Join(list, "; ", terms), ")")};
  }
  const std::string text =
      all ? Join(list, ", and ", terms)
          : absl::StrCat("either ", Join(list, ", or ", terms));
  return {"", nested ? absl::StrCat("(", text, ")") : text};
}

Said Say(const v1::Condition& condition, bool denied, bool nested,
         const RuleTerms& terms) {
  if (condition.has_all_of()) {
    return SayList(condition.all_of(), true, denied, nested, terms);
  }
  if (condition.has_any_of()) {
    return SayList(condition.any_of(), false, denied, nested, terms);
  }
  if (condition.has_not_()) {
    return Say(condition.not_(), !denied, nested, terms);
  }
  const Clause clause = ClauseFor(condition, terms);
  return {clause.subject, denied ? clause.fails : clause.holds};
}

}  // namespace

std::string ConditionInWords(const v1::Condition& condition,
                             const RuleTerms& terms) {
  const Said said = Say(condition, false, false, terms);
  return said.subject.empty() ? said.text
                              : absl::StrCat(said.subject, " ", said.text);
}

}  // namespace turnstone

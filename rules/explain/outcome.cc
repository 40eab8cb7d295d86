#include "rules/explain/outcome.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/engine/agenda.h"
#include "rules/engine/condition.h"
#include "rules/engine/rule_words.h"
#include "rules/engine/view.h"
#include "rules/engine/wording.h"
#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

// Those of one rule about the fact, in the order in which they are put.
std::vector<Question> QuestionsOf(int rule, const Fact& fact,
                                  const Site& site) {
  std::vector<Question> questions = QuestionsAbout(fact, site);
  std::erase_if(questions,
                [rule](const Question& one) { return one.rule != rule; });
  std::sort(questions.begin(), questions.end());
  return questions;
}

v1::Outcome OutcomeFor(Truth truth, bool final) {
  if (truth == v1::TRUTH_TRUE) return v1::OUTCOME_RAISED;
  if (truth == v1::TRUTH_FALSE) return v1::OUTCOME_DID_NOT_RAISE;
  return final ? v1::OUTCOME_RAISED_FOR_REVIEW : v1::OUTCOME_WAITS;
}

std::string AskedAbout(const v1::Rule& rule, const Setup& setup,
                       const Site& site) {
  return absl::StrCat(
      "It is asked ",
      DescribeRule(rule, setup.catalogue(), site.settings).asked, ".");
}

}  // namespace

RuleSaid SaidOf(int rule, size_t at, const Knowledge& known) {
  const Fact& fact = known.history.facts()[at];
  const std::vector<Question> questions = QuestionsOf(rule, fact, known.site);
  RuleSaid said;
  if (questions.empty()) return said;
  const v1::Condition& condition = known.site.rules.rule(rule).condition();
  said = {v1::OUTCOME_NOT_YET, questions.front().due, absl::Time()};
  for (const Question& question : questions) {
    // At once is when the event comes in, even if it is dated a little ahead.
    if (question.due > std::max(known.moment, fact.effective)) break;
    const View view(known.site, known.history, at, question.due);
    const Truth truth = Evaluate(condition, view, nullptr);
    said = {OutcomeFor(truth, question.final), question.due, question.due};
    // It is asked again only where it could not tell.
    if (truth != v1::TRUTH_UNKNOWN) break;
  }
  if (said.outcome == v1::OUTCOME_WAITS) said.due = questions.back().due;
  return said;
}

v1::ConditionTrace TraceAt(int rule, size_t at, absl::Time until,
                           const Knowledge& known) {
  v1::ConditionTrace trace;
  const View view(known.site, known.history, at, until);
  (void)Evaluate(known.site.rules.rule(rule).condition(), view, &trace);
  return trace;
}

v1::RuleOutcome NotAsked(int rule, const Setup& setup, const Site& site) {
  const v1::Rule& asked = site.rules.rule(rule);
  v1::RuleOutcome outcome;
  outcome.set_rule(asked.id());
  outcome.set_rule_version(asked.version());
  outcome.set_title(asked.title());
  outcome.set_kind(asked.kind());
  outcome.set_priority(asked.priority());
  outcome.set_outcome(v1::OUTCOME_NOT_ASKED);
  outcome.set_why(AskedAbout(asked, setup, site));
  return outcome;
}

v1::RuleOutcome OutcomeOf(int rule, size_t at, const Knowledge& known) {
  v1::RuleOutcome outcome = NotAsked(rule, known.setup, known.site);
  const RuleSaid said = SaidOf(rule, at, known);
  outcome.set_outcome(said.outcome);
  if (said.outcome == v1::OUTCOME_NOT_ASKED) return outcome;
  *outcome.mutable_due() = ToProto(said.due);
  if (said.outcome == v1::OUTCOME_NOT_YET) return outcome;
  if (said.outcome == v1::OUTCOME_RAISED_FOR_REVIEW) {
    outcome.set_priority(known.site.rules.rule(rule).unknown_priority());
  }
  *outcome.mutable_trace() = TraceAt(rule, at, said.seen_until, known);
  outcome.set_why(WhyInWords(outcome.trace()));
  return outcome;
}

std::vector<v1::RuleOutcome> OutcomesOf(size_t at, const Knowledge& known) {
  std::vector<v1::RuleOutcome> outcomes;
  outcomes.reserve(static_cast<size_t>(known.site.rules.rule_size()));
  for (int rule = 0; rule < known.site.rules.rule_size(); ++rule) {
    outcomes.push_back(OutcomeOf(rule, at, known));
  }
  return outcomes;
}

bool Raises(v1::Outcome outcome) {
  return outcome == v1::OUTCOME_RAISED ||
         outcome == v1::OUTCOME_RAISED_FOR_REVIEW;
}

}  // namespace turnstone

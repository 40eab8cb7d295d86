#include "rules/examples/ask_rule.h"

#include <algorithm>
#include <vector>

#include "rules/engine/agenda.h"
#include "rules/engine/condition.h"
#include "rules/engine/view.h"

namespace turnstone {
namespace {

// In the order in which they fall due.
std::vector<Question> QuestionsOf(const Site& site, int rule,
                                  const Fact& fact) {
  std::vector<Question> questions = QuestionsAbout(fact, site);
  std::erase_if(questions,
                [rule](const Question& it) { return it.rule != rule; });
  std::sort(questions.begin(), questions.end());
  return questions;
}

}  // namespace

bool IsAskedAbout(const Site& site, int rule, const Fact& fact) {
  return !QuestionsOf(site, rule, fact).empty();
}

std::optional<Truth> AskRule(const Site& site, int rule, const History& history,
                             size_t at, v1::ConditionTrace* trace) {
  const v1::Condition& condition = site.rules.rule(rule).condition();
  for (const Question& question :
       QuestionsOf(site, rule, history.facts()[at])) {
    const View view(site, history, at, question.due);
    const Truth truth = Evaluate(condition, view, nullptr);
    if (truth == v1::TRUTH_UNKNOWN && !question.final) continue;
    if (trace != nullptr) (void)Evaluate(condition, view.InWords(), trace);
    return truth;
  }
  return std::nullopt;
}

v1::ExampleAnswer LeadsTo(Truth truth) {
  if (truth == v1::TRUTH_TRUE) return v1::RAISES;
  if (truth == v1::TRUTH_FALSE) return v1::DOES_NOT_RAISE;
  return v1::RAISES_FOR_REVIEW;
}

}  // namespace turnstone

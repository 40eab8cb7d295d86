#include "rules/engine/decide.h"

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"

namespace turnstone {
namespace {

// Questions whose answer may be new: about facts that changed or stand after
// the change, about earlier facts but put after the change, and those that
// have fallen due since.
std::vector<Question> ToAsk(const Site& site, const History& history,
                            const Agenda& agenda, const Asking& asking) {
  const absl::Time after =
      std::min(asking.asked_until, asking.changed_from - absl::Nanoseconds(1));
  std::vector<Question> questions = agenda.Between(after, asking.now);
  for (size_t i = history.FirstAtOrAfter(asking.changed_from);
       i < history.facts().size(); ++i) {
    const Fact& fact = history.facts()[i];
    for (const Question& question : QuestionsAbout(fact, site)) {
      if (question.due <= fact.effective) questions.push_back(question);
    }
  }
  std::sort(questions.begin(), questions.end());
  return questions;
}

}  // namespace

bool IsSettled(const Site& site, const History& history, size_t at,
               const Question& question) {
  if (!question.first_asked) return false;
  const View view(site, history, at, *question.first_asked);
  const v1::Condition& condition = site.rules.rule(question.rule).condition();
  return Evaluate(condition, view, nullptr) != v1::TRUTH_UNKNOWN;
}

namespace {

Answer Ask(const Site& site, const History& history, size_t at,
           const Question& question) {
  const Fact& fact = history.facts()[at];
  Answer answer;
  answer.rule = &site.rules.rule(question.rule);
  answer.fact = fact.key;
  answer.corrected_by = fact.corrected_by;
  answer.effective = fact.effective;
  answer.due = question.due;
  const View view(site, history, at, question.due);
  answer.truth = Evaluate(answer.rule->condition(), view, nullptr);
  answer.waits = answer.truth == v1::TRUTH_UNKNOWN && !question.final;
  const bool raises = answer.truth == v1::TRUTH_TRUE ||
                      (answer.truth == v1::TRUTH_UNKNOWN && question.final);
  answer.raise = raises && !IsSettled(site, history, at, question);
  if (!answer.raise) return answer;
  answer.priority = answer.truth == v1::TRUTH_TRUE
                        ? answer.rule->priority()
                        : answer.rule->unknown_priority();
  // Words are made only for what somebody will read.
  (void)Evaluate(answer.rule->condition(), view, &answer.trace);
  answer.why = WhyInWords(answer.trace);
  return answer;
}

}  // namespace

std::vector<Answer> Decide(const Site& site, const History& history,
                           const Agenda& agenda, const Asking& asking) {
  std::vector<Answer> answers;
  for (const Question& question : ToAsk(site, history, agenda, asking)) {
    const std::optional<size_t> at = history.Find(question.fact);
    if (at) answers.push_back(Ask(site, history, *at, question));
  }
  return answers;
}

}  // namespace turnstone

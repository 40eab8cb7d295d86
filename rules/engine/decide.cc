#include "rules/engine/decide.h"

#include <algorithm>
#include <tuple>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"

namespace turnstone {
namespace {

// Questions whose answer may be new: about facts that changed or stand after
// the change, about earlier facts but put after the change, and those that
// have fallen due since. In the order of their questions.
std::vector<Turn> ToAsk(const Site& site, const History& history,
                        const Agenda& agenda, const Asking& asking) {
  const absl::Time after =
      std::min(asking.asked_until, asking.changed_from - absl::Nanoseconds(1));
  const auto later = agenda.EntriesBetween(after, asking.now);
  std::vector<Turn> turns;
  turns.reserve(later.size() + static_cast<size_t>(site.rules.rule_size()));
  for (const Agenda::Entry& entry : later) {
    const auto at = history.FindArrival(entry.arrival, entry.effective);
    if (!at) continue;
    turns.push_back(entry.turn);
    turns.back().at = *at;
  }
  const std::vector<Fact>& facts = history.facts();
  for (size_t i = history.FirstAtOrAfter(asking.changed_from); i < facts.size();
       ++i) {
    TurnsAtOnce(facts[i], i, site, turns);
  }
  std::sort(turns.begin(), turns.end(), [&facts](const Turn& a, const Turn& b) {
    if (a.due != b.due) return a.due < b.due;
    if (a.at != b.at) return facts[a.at].key < facts[b.at].key;
    return std::tie(a.rule, a.final) < std::tie(b.rule, b.final);
  });
  return turns;
}

bool WasSettled(const Site& site, const History& history, size_t at, int rule,
                const std::optional<absl::Time>& first_asked) {
  if (!first_asked) return false;
  const View view(site, history, at, *first_asked);
  return Evaluate(site.rules.rule(rule).condition(), view, nullptr) !=
         v1::TRUTH_UNKNOWN;
}

Judgement Ask(const Site& site, const History& history, const Turn& turn) {
  const v1::Rule& rule = site.rules.rule(turn.rule);
  Judgement judgement{turn.at, turn.rule, turn.due};
  const View view(site, history, turn.at, turn.due);
  judgement.truth = Evaluate(rule.condition(), view, nullptr);
  const bool unknown = judgement.truth == v1::TRUTH_UNKNOWN;
  judgement.waits = unknown && !turn.final;
  const bool raises =
      judgement.truth == v1::TRUTH_TRUE || (unknown && turn.final);
  judgement.raise = raises && !WasSettled(site, history, turn.at, turn.rule,
                                          turn.first_asked);
  if (judgement.raise) {
    judgement.priority = unknown ? rule.unknown_priority() : rule.priority();
  }
  return judgement;
}

}  // namespace

bool IsSettled(const Site& site, const History& history, size_t at,
               const Question& question) {
  return WasSettled(site, history, at, question.rule, question.first_asked);
}

std::vector<Judgement> Judge(const Site& site, const History& history,
                             const Agenda& agenda, const Asking& asking) {
  const std::vector<Turn> turns = ToAsk(site, history, agenda, asking);
  std::vector<Judgement> judgements;
  judgements.reserve(turns.size());
  for (const Turn& turn : turns) {
    judgements.push_back(Ask(site, history, turn));
  }
  return judgements;
}

Answer InWords(const Judgement& judgement, const Site& site,
               const History& history) {
  const Fact& fact = history.facts()[judgement.at];
  const v1::Rule& rule = site.rules.rule(judgement.rule);
  Answer answer{&rule,
                fact.key,
                fact.corrected_by,
                fact.effective,
                judgement.due,
                judgement.truth,
                judgement.raise,
                judgement.waits,
                judgement.priority,
                {},
                ""};
  // Words are made only for what somebody will read.
  if (!answer.raise) return answer;
  const View view(site, history, judgement.at, judgement.due);
  (void)Evaluate(rule.condition(), view, &answer.trace);
  answer.why = WhyInWords(answer.trace);
  return answer;
}

std::vector<Answer> Decide(const Site& site, const History& history,
                           const Agenda& agenda, const Asking& asking) {
  const std::vector<Judgement> judgements =
      Judge(site, history, agenda, asking);
  std::vector<Answer> answers;
  answers.reserve(judgements.size());
  for (const Judgement& one : judgements) {
    answers.push_back(InWords(one, site, history));
  }
  return answers;
}

}  // namespace turnstone

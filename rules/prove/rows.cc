#include "rules/prove/rows.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/engine/wording.h"
#include "rules/prove/ask.h"
#include "rules/prove/form_answers.h"
#include "rules/prove/leaves.h"

namespace turnstone {
namespace {

bool Could(const v1::Rule& rule, const v1::RaisesAlert& wanted) {
  const bool at_once =
      !rule.when().has_after_working_days() && !rule.when().has_after_days();
  return at_once && HasKind(wanted.kind(), rule.kind()) &&
         std::max(rule.priority(), rule.unknown_priority()) >=
             wanted.at_least();
}

bool Raises(const v1::RaisesAlert& wanted, const Site& site,
            const History& history) {
  const std::vector<Said> said = AskAtOnce(site, history);
  return std::any_of(said.begin(), said.end(), [&](const Said& each) {
    return Satisfies(each, wanted, site);
  });
}

std::string EventInWords(const v1::Event& event, const Fact& fact,
                         const Catalogue& catalogue) {
  if (!event.has_screening_result()) return FactInWords(fact);
  const v1::ScreeningResult& form = event.screening_result();
  return FormInWords(*catalogue.Find(form.instrument()), form);
}

Counterexample CaseOfRow(const std::vector<v1::Event>& events,
                         const v1::Property& property, const Site& site,
                         const Catalogue& catalogue) {
  Counterexample example;
  example.events = events;
  const History history = HistoryOf(events, catalogue);
  for (size_t i = 0; i < events.size(); ++i) {
    example.words.push_back(
        EventInWords(events[i], history.facts()[i], catalogue));
  }
  example.expected = WantedInWords(property.raise());
  example.found = RaisedInWords(AskAtOnce(site, history), site);
  return example;
}

}  // namespace

RulesInQuestion RulesThatCould(const v1::RaisesAlert& wanted,
                               const Site& site) {
  RulesInQuestion rules{
      WithRules(site,
                [&](const v1::Rule& rule) {
                  return Could(rule, wanted) && HasMemory(rule.condition());
                }),
      WithRules(site,
                [&](const v1::Rule& rule) { return Could(rule, wanted); })};
  rules.some_left_out =
      rules.remembering.rules.rule_size() < rules.all.rules.rule_size();
  return rules;
}

RowMemory MemoryOf(const v1::Property& property, const RulesInQuestion& rules,
                   const std::string& instrument) {
  const Site& site = rules.remembering;
  RowMemory memory;
  AddMemory(property.given(), instrument, site.config.planned_visits(), memory);
  for (const v1::Rule& rule : site.rules.rule()) {
    AddMemory(rule.condition(), instrument, site.config.planned_visits(),
              memory);
  }
  return memory;
}

History HistoryOf(const std::vector<v1::Event>& events,
                  const Catalogue& catalogue) {
  History history;
  for (const v1::Event& event : events) (void)history.Apply(event, catalogue);
  return history;
}

Walked WalkRows(const v1::Property& property, const RulesInQuestion& rules,
                const Catalogue& catalogue, const Rows& rows) {
  WalkPlan plan;
  plan.steps = rows.steps;
  plan.longest = rows.longest;
  plan.digest = rows.digest;
  plan.holds = [&](const Row& row) {
    const History history = HistoryOf(rows.events(row), catalogue);
    return (property.has_given() &&
            !IsGiven(property.given(), rules.all, history)) ||
           Raises(property.raise(), rules.remembering, history);
  };
  plan.holds_otherwise = [&](const Row& row) {
    return rules.some_left_out &&
           Raises(property.raise(), rules.all,
                  HistoryOf(rows.events(row), catalogue));
  };
  return Walk(plan);
}

void Conclude(const Walked& walked, const v1::Property& property,
              const Site& site, const Catalogue& catalogue,
              const std::function<std::vector<v1::Event>(const Row&)>& events,
              Proof& proof) {
  proof.cases = walked.cases;
  proof.evaluations = walked.evaluations;
  proof.states = walked.states;
  const auto tell = [&](const Row& row) {
    proof.counterexample = CaseOfRow(events(row), property, site, catalogue);
  };
  if (walked.failing) {
    proof.result = ProofResult::kFails;
    tell(*walked.failing);
  } else if (walked.unsure) {
    proof.result = ProofResult::kNotDecided;
    proof.why =
        "in this case only a rule raises it that remembers the whole course, "
        "and not every case like it can be gone through";
    tell(*walked.unsure);
  } else if (walked.too_many) {
    proof.result = ProofResult::kNotDecided;
    proof.why = absl::StrCat("the rules tell too many cases apart: more than ",
                             walked.evaluations, " were left");
  } else {
    proof.result = ProofResult::kHolds;
  }
}

}  // namespace turnstone

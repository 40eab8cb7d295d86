#include "tests/second/asked.h"

#include <algorithm>
#include <cstdlib>

namespace turnstone::second {

std::vector<const Fact*> InSight(const Asked& asked) {
  std::vector<const Fact*> seen;
  for (const Fact& fact : asked.facts) {
    if (fact.when <= asked.moment || &fact == &asked.subject()) {
      seen.push_back(&fact);
    }
  }
  return seen;
}

std::vector<const Fact*> UpToSubject(const Asked& asked) {
  std::vector<const Fact*> seen = InSight(asked);
  while (seen.back() != &asked.subject()) seen.pop_back();
  return seen;
}

std::vector<const Fact*> Forms(const Asked& asked,
                               const std::string& instrument) {
  const std::optional<Form>& form = asked.subject().form;
  const bool about_it = form && form->instrument == instrument;
  std::vector<const Fact*> forms =
      about_it ? UpToSubject(asked) : InSight(asked);
  const auto other = [&](const Fact* fact) {
    return !fact->form || fact->form->instrument != instrument;
  };
  forms.erase(std::remove_if(forms.begin(), forms.end(), other), forms.end());
  return forms;
}

const Fact* LastEnrolment(const Asked& asked) {
  const Fact* last = nullptr;
  for (const Fact* fact : InSight(asked)) {
    if (fact->event->has_enrolment()) last = fact;
  }
  return last;
}

const Fact* LastTurn(const Asked& asked) {
  const Fact* last = nullptr;
  for (const Fact* fact : InSight(asked)) {
    if (fact->event->has_enrolment()) last = fact;
    if (!fact->event->has_discharge()) continue;
    const bool tie = last != nullptr && last->event->has_enrolment() &&
                     last->when == fact->when;
    if (!tie) last = fact;
  }
  return last;
}

bool ShowsContact(const Fact& fact) {
  if (fact.form) return fact.form->done;
  if (fact.event->has_visit_outcome()) {
    return fact.event->visit_outcome().outcome() ==
           v1::VISIT_OUTCOME_KIND_ATTENDED;
  }
  return fact.event->has_enrolment() || fact.event->has_practice_report();
}

v1::Truth EveryOne(const std::vector<v1::Truth>& answers) {
  v1::Truth all = v1::TRUTH_TRUE;
  for (const v1::Truth answer : answers) {
    if (answer == v1::TRUTH_FALSE) return v1::TRUTH_FALSE;
    if (answer == v1::TRUTH_UNKNOWN) all = v1::TRUTH_UNKNOWN;
  }
  return all;
}

v1::Truth Agreed(const std::vector<v1::Truth>& answers) {
  for (const v1::Truth answer : answers) {
    if (answer != answers.front()) return v1::TRUTH_UNKNOWN;
  }
  return answers.front();
}

v1::Truth OfEach(int low, int high,
                 const std::function<v1::Truth(int)>& answer) {
  std::vector<v1::Truth> answers;
  for (int value = low; value <= high; ++value) {
    answers.push_back(answer(value));
  }
  return Agreed(answers);
}

namespace {

v1::Truth Opposite(v1::Truth answer) {
  if (answer == v1::TRUTH_UNKNOWN) return v1::TRUTH_UNKNOWN;
  return Say(answer == v1::TRUTH_FALSE);
}

std::vector<v1::Truth> EachPart(const v1::Conditions& parts,
                                const Asked& asked) {
  std::vector<v1::Truth> answers;
  for (const v1::Condition& part : parts.condition()) {
    answers.push_back(Holds(part, asked));
  }
  return answers;
}

}  // namespace

v1::Truth Holds(const v1::Condition& condition, const Asked& asked) {
  if (condition.has_all_of()) {
    return EveryOne(EachPart(condition.all_of(), asked));
  }
  if (condition.has_any_of()) {
    // Not so that none of them holds.
    std::vector<v1::Truth> none;
    for (const v1::Truth answer : EachPart(condition.any_of(), asked)) {
      none.push_back(Opposite(answer));
    }
    return Opposite(EveryOne(none));
  }
  if (condition.has_not_()) return Opposite(Holds(condition.not_(), asked));
  if (const auto answer = OfTheForm(condition, asked)) return *answer;
  if (const auto answer = OfTheCourse(condition, asked)) return *answer;
  if (const auto answer = OfTheRecord(condition, asked)) return *answer;
  if (const auto answer = OfTheVisits(condition, asked)) return *answer;
  std::abort();
}

}  // namespace turnstone::second

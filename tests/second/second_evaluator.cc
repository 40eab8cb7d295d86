#include "tests/second/second_evaluator.h"

#include <algorithm>
#include <optional>

#include "tests/second/asked.h"
#include "tests/second/days.h"

namespace turnstone::second {
namespace {

// Whether the rule is asked about the fact at all.
bool IsOccasion(const World& world, const v1::Occasion& when,
                const Fact& fact) {
  const v1::Event& event = *fact.event;
  switch (when.event_case()) {
    case v1::Occasion::kScreening:
      for (const std::string& name : when.screening().instrument()) {
        if (!fact.form) return false;
        if (world.instruments.at(name).id() == fact.form->instrument) {
          return true;
        }
      }
      return false;
    case v1::Occasion::kVisitPlanned:
      return event.has_visit_planned();
    case v1::Occasion::kVisitOutcome:
      return event.has_visit_outcome();
    case v1::Occasion::kPracticeReport:
      return event.has_practice_report();
    case v1::Occasion::kEnrolment:
      return event.has_enrolment();
    case v1::Occasion::kDischarge:
      return event.has_discharge();
    case v1::Occasion::kContact:
      return ShowsContact(fact);
    case v1::Occasion::EVENT_NOT_SET:
      break;
  }
  return false;
}

absl::Time FirstAsked(const World& world, const v1::Occasion& when,
                      const Fact& fact) {
  const bool at_once = !when.has_after_working_days() && !when.has_after_days();
  if (at_once) return fact.when;
  absl::Time from = fact.when;
  if (fact.event->has_visit_planned()) {
    // A visit may be written down after it was to begin; then the plan itself
    // comes last, and nobody is asked before it.
    const auto& start = fact.event->visit_planned().planned_start();
    from = std::max(from, absl::FromUnixSeconds(start.seconds()) +
                              absl::Nanoseconds(start.nanos()));
  }
  return when.has_after_working_days()
             ? AfterWorkingDays(world, from, when.after_working_days().value())
             : AfterDays(world, from, when.after_days().value());
}

struct Answered {
  absl::Time due;
  v1::Truth truth;
};

// The answer that counts; nothing while it is still to come.
std::optional<Answered> Ask(const World& world, const v1::Rule& rule,
                            const std::vector<Fact>& facts, size_t about,
                            absl::Time now) {
  absl::Time due = FirstAsked(world, rule.when(), facts[about]);
  if (due > now) return std::nullopt;
  v1::Truth truth = Holds(rule.condition(), {world, facts, about, due});
  if (truth == v1::TRUTH_UNKNOWN && rule.on_unknown().has_wait_then_raise()) {
    due = AfterWorkingDays(
        world, due, rule.on_unknown().wait_then_raise().working_days().value());
    if (due > now) return std::nullopt;
    truth = Holds(rule.condition(), {world, facts, about, due});
  }
  return Answered{due, truth};
}

v1::Priority PriorityOf(const v1::Rule& rule, v1::Truth truth) {
  const bool own = truth == v1::TRUTH_UNKNOWN &&
                   rule.unknown_priority() != v1::PRIORITY_UNSPECIFIED;
  return own ? rule.unknown_priority() : rule.priority();
}

}  // namespace

std::vector<Verdict> MustBeRaised(const World& world,
                                  const std::vector<v1::Event>& recorded,
                                  absl::Time now) {
  const std::vector<Fact> facts = FactsFrom(world, recorded);
  std::vector<Verdict> raised;
  for (const v1::Rule& rule : world.rules.rule()) {
    for (size_t about = 0; about < facts.size(); ++about) {
      const Fact& fact = facts[about];
      if (!IsOccasion(world, rule.when(), fact)) continue;
      const auto answer = Ask(world, rule, facts, about, now);
      if (!answer || answer->truth == v1::TRUTH_FALSE) continue;
      raised.push_back({rule.id(), fact.source, fact.id, answer->due,
                        answer->truth, PriorityOf(rule, answer->truth)});
    }
  }
  std::sort(raised.begin(), raised.end());
  return raised;
}

}  // namespace turnstone::second

#include "rules/examples/boundary.h"

#include "rules/examples/ask_rule.h"
#include "rules/examples/example_setup.h"

namespace turnstone {
namespace {

// Absent if the rule is no longer asked about the event.
std::optional<Truth> AnswerAbout(const EventKey& asked,
                                 const std::vector<v1::Event>& events,
                                 const Setup& setup, int rule) {
  History history;
  for (const v1::Event& event : events) {
    if (!history.Apply(event, setup.catalogue()).ok()) return std::nullopt;
  }
  const std::optional<size_t> at = history.Find(asked);
  if (!at) return std::nullopt;
  return AskRule(ExampleSite(setup), rule, history, *at, nullptr);
}

}  // namespace

std::optional<Step> NearestOtherAnswer(const ExampleCase& example,
                                       const Setup& setup, int rule) {
  const std::optional<Truth> here =
      AnswerAbout(example.asked, example.event, setup, rule);
  StepOptions options;
  options.planned_visits = ExampleSite(setup).config.planned_visits();
  options.asked = example.asked;
  for (const Step& step :
       StepsFrom(example.event, setup.catalogue(), options)) {
    const std::optional<Truth> there =
        AnswerAbout(example.asked, Take(step, example.event), setup, rule);
    if (there && there != here) return step;
  }
  return std::nullopt;
}

}  // namespace turnstone

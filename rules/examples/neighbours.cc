#include "rules/examples/neighbours.h"

#include <algorithm>
#include <tuple>
#include <utility>

#include "rules/examples/event_steps.h"
#include "rules/measure/proto_time.h"

namespace turnstone {

std::vector<Step> StepsFrom(const std::vector<v1::Event>& events,
                            const Catalogue& catalogue,
                            const StepOptions& options) {
  std::vector<Step> steps;
  for (size_t at = 0; at < events.size(); ++at) {
    EventSteps(events[at], at, catalogue, options).AddAll(steps);
  }
  const auto nearness = [&](const Step& step) {
    const v1::Event& event = events[step.at];
    const bool asked =
        options.asked == EventKey{event.source(), event.event_id()};
    return std::tuple(step.size, !asked,
                      -absl::ToUnixMicros(FromProto(event.effective_time())));
  };
  std::stable_sort(
      steps.begin(), steps.end(),
      [&](const Step& a, const Step& b) { return nearness(a) < nearness(b); });
  return steps;
}

std::vector<v1::Event> Take(const Step& step, std::vector<v1::Event> events) {
  if (step.further) {
    events.push_back(*step.instead);
  } else if (step.instead) {
    events[step.at] = *step.instead;
  } else {
    events.erase(events.begin() + static_cast<std::ptrdiff_t>(step.at));
  }
  return events;
}

}  // namespace turnstone

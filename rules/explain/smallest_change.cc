#include "rules/explain/smallest_change.h"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "rules/explain/steps.h"
#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

using Events = std::vector<v1::Event>;

// Bounds the work: for each trial the history is built anew, and a long one
// takes longer.
constexpr size_t kEventsReadMax = 200000;

Events After(const Step& step, Events events) {
  if (step.instead) {
    events[step.at] = *step.instead;
  } else {
    events.erase(events.begin() + static_cast<std::ptrdiff_t>(step.at));
  }
  return events;
}

class Search {
 public:
  Search(int rule, EventKey event, const Knowledge& known)
      : rule_(rule), event_(std::move(event)), known_(known) {}

  std::optional<Change> From(const Events& events) {
    const std::vector<Step> steps = Steps(events);
    for (const Step& step : steps) {
      if (Try(events, step, {step.words})) return found_;
    }
    for (const Step& first : steps) {
      const Events after = After(first, events);
      for (const Step& second : Steps(after)) {
        if (read_ > kEventsReadMax) return found_;
        if (Try(after, second, {first.words, second.words})) return found_;
      }
    }
    return found_;
  }

 private:
  // None into the future; those that touch the event in question first.
  [[nodiscard]] std::vector<Step> Steps(const Events& events) const {
    std::vector<Step> steps = StepsFrom(events, known_.setup, known_.site);
    std::erase_if(steps, [this](const Step& step) {
      return step.instead &&
             FromProto(step.instead->effective_time()) > known_.moment;
    });
    std::stable_partition(steps.begin(), steps.end(), [&](const Step& step) {
      return events[step.at].event_id() == event_.event_id &&
             events[step.at].source() == event_.source;
    });
    return steps;
  }

  [[nodiscard]] std::optional<History> HistoryAfter(const Step& step,
                                                    const Events& events) {
    read_ += events.size();
    History history;
    for (size_t i = 0; i < events.size(); ++i) {
      if (i == step.at && !step.instead) continue;
      const v1::Event& event = i == step.at ? *step.instead : events[i];
      if (!history.Apply(event, known_.setup.catalogue()).ok()) {
        return std::nullopt;
      }
    }
    return history;
  }

  // True once nothing better is to be looked for.
  bool Try(const Events& events, const Step& step,
           std::vector<std::string> words) {
    const std::optional<History> history = HistoryAfter(step, events);
    if (!history) return false;
    const std::optional<size_t> at = history->Find(event_);
    if (!at) return false;
    const Knowledge other{known_.setup, known_.site, *history, known_.moment};
    const v1::Outcome outcome = SaidOf(rule_, *at, other).outcome;
    const bool applies = outcome == v1::OUTCOME_RAISED;
    const bool in_doubt = outcome == v1::OUTCOME_RAISED_FOR_REVIEW && !found_;
    if (!applies && !in_doubt) return false;
    found_ = Change{std::move(words), OutcomeOf(rule_, *at, other).why()};
    return applies;
  }

  const int rule_;
  const EventKey event_;
  const Knowledge& known_;
  size_t read_ = 0;
  // The first by which it applies, else by which it cannot tell.
  std::optional<Change> found_;
};

}  // namespace

std::optional<Change> SmallestChange(int rule, const EventKey& event,
                                     const std::vector<v1::Event>& events,
                                     const Knowledge& known) {
  return Search(rule, event, known).From(events);
}

}  // namespace turnstone

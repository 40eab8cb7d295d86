#include "rules/explain/smallest_change.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <cstddef>
#include <utility>

#include "rules/engine/resolve_numbers.h"
#include "rules/examples/neighbours.h"
#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

using Events = std::vector<v1::Event>;

// Bounds the work: for each trial the history is built anew, and a long one
// takes longer.
constexpr size_t kEventsReadMax = 100000;

// At and beside each number the rule names its answer may turn.
std::vector<int> NumbersOf(v1::Rule rule) {
  std::vector<int> numbers;
  ForEachNumber(*rule.mutable_condition(), [&numbers](const v1::Number& one) {
    for (const int beside : {-1, 0, 1}) {
      numbers.push_back(one.value() + beside);
    }
  });
  return numbers;
}

class Search {
 public:
  Search(int rule, const EventKey& event, const Knowledge& known)
      : rule_(rule), event_(event), known_(known) {
    options_.zone = known.site.calendar.zone();
    options_.planned_visits = known.site.config.planned_visits();
    options_.asked = event;
    options_.numbers = NumbersOf(known.site.rules.rule(rule));
  }

  std::optional<Change> From(const Events& events) {
    const std::vector<Step> steps = Steps(events);
    for (const Step& step : steps) {
      if (Try(Take(step, events), {step.differs})) return found_;
    }
    for (const Step& first : steps) {
      const Events after = Take(first, events);
      for (const Step& second : Steps(after)) {
        if (read_ > kEventsReadMax) return found_;
        if (Try(Take(second, after), {first.differs, second.differs})) {
          return found_;
        }
      }
    }
    return found_;
  }

 private:
  // None into the future.
  [[nodiscard]] std::vector<Step> Steps(const Events& events) const {
    std::vector<Step> steps =
        StepsFrom(events, known_.setup.catalogue(), options_);
    std::erase_if(steps, [this](const Step& step) {
      return step.instead &&
             FromProto(step.instead->effective_time()) > known_.moment;
    });
    return steps;
  }

  [[nodiscard]] std::optional<History> HistoryOf(const Events& events) {
    read_ += events.size();
    History history;
    for (const v1::Event& event : events) {
      if (!history.Apply(event, known_.setup.catalogue()).ok()) {
        return std::nullopt;
      }
    }
    return history;
  }

  // True once nothing better is to be looked for.
  bool Try(const Events& events, const std::vector<std::string>& differs) {
    const std::optional<History> history = HistoryOf(events);
    if (!history) return false;
    const std::optional<size_t> at = history->Find(event_);
    if (!at) return false;
    const Knowledge other{known_.setup, known_.site, *history, known_.moment};
    const v1::Outcome outcome = SaidOf(rule_, *at, other).outcome;
    const bool applies = outcome == v1::OUTCOME_RAISED;
    const bool in_doubt = outcome == v1::OUTCOME_RAISED_FOR_REVIEW && !found_;
    if (!applies && !in_doubt) return false;
    found_.emplace();
    for (const std::string& one : differs) {
      found_->steps.push_back(absl::StrCat("if ", one));
    }
    found_->why = OutcomeOf(rule_, *at, other).why();
    return applies;
  }

  const int rule_;
  const EventKey event_;
  const Knowledge& known_;
  StepOptions options_;
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

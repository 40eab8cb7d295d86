#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

#include "rules/examples/event_steps.h"
#include "rules/measure/score.h"

namespace turnstone {
namespace {

int Distance(int a, int b) { return std::max(a, b) - std::min(a, b); }

// Of the answers to the item that is given, the one that brings the sum nearest
// to `missing` more points, and by how many it moves it.
std::pair<std::string, int> Nearest(const Scale& scale, size_t item,
                                    int present, int missing) {
  std::pair<std::string, int> best{"", 0};
  for (const v1::Answer& answer : scale.AnswersTo(item)) {
    const AnswerKey* const key = scale.FindAnswer(item, answer.code());
    if (!key->points) continue;
    const int moved = *key->points - present;
    if (Distance(missing, moved) < Distance(missing, best.second)) {
      best = {answer.code(), moved};
    }
  }
  return best;
}

}  // namespace

// Other answers of the same form, the self-harm item left as it is, so that
// they come to each number worth jumping to.
void EventSteps::OfAnswersInAll(const Scale& scale) {
  const v1::ScreeningResult& form = event_.screening_result();
  const auto score = ScoreForm(scale, form);
  if (!score.ok() || score->disagrees || form.answers().empty() ||
      !score->total.IsPoint()) {
    return;
  }
  for (const int number : options_.numbers) {
    if ((number - score->total.low) % scale.Multiplier() != 0) continue;
    int missing = (number - score->total.low) / scale.Multiplier();
    if (missing == 0) continue;
    v1::Event changed = event_;
    v1::ScreeningResult& other = *changed.mutable_screening_result();
    for (v1::ItemAnswer& given : *other.mutable_answers()) {
      const std::optional<size_t> item = scale.FindItem(given.question());
      if (!item || item == scale.SelfHarmItem() || !score->points[*item]) {
        continue;
      }
      const auto [answer, moved] =
          Nearest(scale, *item, *score->points[*item], missing);
      if (moved != 0) given.set_answer(answer);
      missing -= moved;
    }
    if (missing != 0) continue;
    if (other.has_reported_total()) other.set_reported_total(number);
    Add(StepSize::kManyPoints, std::move(changed),
        absl::StrCat("came to ", number, " points in all instead of ",
                     score->total.low));
  }
}

}  // namespace turnstone

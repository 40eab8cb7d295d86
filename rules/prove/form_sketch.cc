#include "rules/prove/form_sketch.h"

#include <algorithm>
#include <limits>

#include "rules/prove/leaves.h"

namespace turnstone {
namespace {

bool IsUnscored(const Scale& scale, size_t index) {
  return scale.definition().item(static_cast<int>(index)).unscored();
}

// Where the choice stands among those of a scored item.
int Rank(const ItemChoice& choice) {
  if (choice.points) return *choice.points;
  return choice.answer.empty() ? std::numeric_limits<int>::max()
                               : std::numeric_limits<int>::max() - 1;
}

}  // namespace

int SeenAs(const ItemChoice& choice) {
  if (choice.points) return *choice.points + 2;
  return choice.answer.empty() ? 0 : 1;
}

std::vector<ItemChoice> ChoicesOf(const Scale& scale, size_t index) {
  std::vector<ItemChoice> choices = {{"", std::nullopt}};
  for (const v1::Answer& answer : scale.AnswersTo(index)) {
    choices.push_back(
        {answer.code(), scale.FindAnswer(index, answer.code())->points});
  }
  if (IsUnscored(scale, index)) return choices;
  std::stable_sort(choices.begin(), choices.end(),
                   [](const ItemChoice& a, const ItemChoice& b) {
                     return Rank(a) < Rank(b);
                   });
  return choices;
}

void AddItem(const Scale& scale, size_t index, const ItemChoice& choice,
             bool looked_at, FormSketch& sketch) {
  if (looked_at) sketch.seen.push_back(SeenAs(choice));
  if (IsUnscored(scale, index)) return;
  if (choice.answer.empty()) ++sketch.missing;
  const Interval possible = choice.points
                                ? Interval{*choice.points, *choice.points}
                                : scale.ItemRange(index);
  sketch.low += possible.low * scale.Multiplier();
  sketch.high += possible.high * scale.Multiplier();
}

FormSketch SketchOf(const std::set<size_t>& looked_at, const Score& score) {
  FormSketch sketch;
  sketch.low = score.total.low;
  sketch.high = score.total.high;
  sketch.missing = score.scored_items - score.answered_items;
  for (const size_t item : looked_at) {
    // Only whether there is an answer matters, not which.
    sketch.seen.push_back(
        SeenAs({score.answered[item] ? "answered" : "", score.points[item]}));
  }
  return sketch;
}

void AddItemsLookedAt(const v1::Condition& condition, const Scale& scale,
                      std::set<size_t>& looked_at) {
  const auto add = [&](const std::optional<size_t>& item) {
    if (item) looked_at.insert(*item);
  };
  ForEachLeaf(condition, [&](const v1::Condition& leaf) {
    if (leaf.has_item()) {
      add(leaf.item().self_harm() ? scale.SelfHarmItem()
                                  : scale.FindItem(leaf.item().question()));
    } else if (leaf.has_item_unanswered()) {
      add(leaf.item_unanswered().self_harm()
              ? scale.SelfHarmItem()
              : scale.FindItem(leaf.item_unanswered().question()));
    } else if (leaf.has_self_harm_earlier()) {
      add(scale.SelfHarmItem());
    }
  });
}

}  // namespace turnstone

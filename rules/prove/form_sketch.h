// What a rule can see of the answers of a form.
//
// A screening, as rules get it, holds the scale, the score and the wish
// (rules/engine/history.h). Of the score, conditions look at
// - `total`, an interval: its ends are the sums of the answers' points, with
// the
//   lowest and the highest of every scored item that has none;
// - `points` and `answered` of an item that the condition names, or of the
//   self-harm item (self_harm, and self_harm_earlier through SelfHarmOf);
// - whether anything was answered at all, through WasDone: `answered_items` is
//   above 0 exactly if fewer scored items are missing than there are;
// - `reported` and `disagrees`: without a reported total both are always absent
//   and false, and of a total alone both are the total's own;
// - `result`: of an instrument with items there is none.
// `prorated` is never for a rule to use. So two forms with one sketch, in which
// every item is noted that any condition names, are the same to every rule. The
// tests hold this against the engine, form by form.
#pragma once

#include <cstddef>
#include <set>
#include <string>
#include <vector>

#include "rules/measure/score.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

struct FormSketch {
  // Ends of the total.
  int low = 0;
  int high = 0;
  // Scored items without an answer.
  int missing = 0;
  // Of each item looked at, in the instrument's order: 0 no answer, 1 an answer
  // without points, else its points and 2.
  std::vector<int> seen;
  friend auto operator<=>(const FormSketch&, const FormSketch&) = default;
};

// One way to answer an item.
struct ItemChoice {
  // Empty: no answer.
  std::string answer;
  std::optional<int> points;
};

// How the item stands in FormSketch::seen.
[[nodiscard]] int SeenAs(const ItemChoice& choice);

// Every way to answer item `index`, the smallest first: by points, then no
// answer; for an item that is not scored, no answer first. Pure.
[[nodiscard]] std::vector<ItemChoice> ChoicesOf(const Scale& scale,
                                                size_t index);

// Takes one item more into `sketch`; items are added in the instrument's order.
void AddItem(const Scale& scale, size_t index, const ItemChoice& choice,
             bool looked_at, FormSketch& sketch);

// Of a form that was scored. Pure. REQUIRES: its scale has items.
[[nodiscard]] FormSketch SketchOf(const std::set<size_t>& looked_at,
                                  const Score& score);

// Indexes of the items of `scale` that `condition` looks at. Pure.
void AddItemsLookedAt(const v1::Condition& condition, const Scale& scale,
                      std::set<size_t>& looked_at);

}  // namespace turnstone

// Every way of filling in a form, taken together by what a rule can see of it.
//
// Items are added one after another, and ways that look alike so far are taken
// together at once: each way is counted, none is built.
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "rules/prove/form_sketch.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// Smaller forms are easier to read: fewest answers above the lowest score, then
// fewest scored items without an answer, then the lowest points in all, then
// the lowest answers to the last items.
struct FormSize {
  int above_lowest = 0;
  int missing = 0;
  int points = 0;
  // Index into ChoicesOf, from the last item to the first.
  std::vector<size_t> choices;
  friend auto operator<=>(const FormSize&, const FormSize&) = default;
};

struct FormGroup {
  uint64_t forms = 0;
  FormSize smallest;
};

// Two forms that differ in one item, which is a step worse in the second.
struct FormPair {
  uint64_t pairs = 0;
  FormSize smallest;  // of the first
  size_t item = 0;    // for the smallest
  size_t choice = 0;  // of the item, in the second
};

class FormGroups {
 public:
  // `looked_at`: items that stand in the sketches. `scale` must outlive this.
  // REQUIRES: it has items.
  FormGroups(const Scale& scale, std::set<size_t> looked_at);

  [[nodiscard]] const Scale& scale() const { return *scale_; }
  [[nodiscard]] const std::set<size_t>& looked_at() const { return looked_at_; }
  [[nodiscard]] const std::map<FormSketch, FormGroup>& groups() const {
    return groups_;
  }
  [[nodiscard]] const std::map<std::pair<FormSketch, FormSketch>, FormPair>&
  pairs() const {
    return pairs_;
  }

  // The form with these choices. Unanswered items are declined.
  [[nodiscard]] v1::ScreeningResult FormOf(const FormSize& size) const;
  // The second form of the smallest pair.
  [[nodiscard]] v1::ScreeningResult WorseForm(const FormPair& pair) const;
  // Every total that can be reported, from the lowest.
  [[nodiscard]] std::vector<int> Totals() const;

 private:
  const Scale* scale_;
  std::set<size_t> looked_at_;
  std::map<FormSketch, FormGroup> groups_;
  std::map<std::pair<FormSketch, FormSketch>, FormPair> pairs_;
};

}  // namespace turnstone

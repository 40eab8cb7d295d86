#include "tests/second/against.h"

#include <algorithm>

namespace turnstone::second {

const Fact* Baseline(const Row& earlier, const Asked& asked) {
  const Fact* enrolment = LastEnrolment(asked);
  const Fact* first = nullptr;
  const Fact* last = nullptr;
  for (const Fact* fact : earlier) {
    if (!fact->form->done) continue;
    if (first == nullptr) first = fact;
    if (enrolment != nullptr && fact->when <= enrolment->when) last = fact;
  }
  return last != nullptr ? last : first;
}

std::optional<Range> HeldAgainst(v1::ComparedWith than, const Row& row,
                                 const Asked& asked) {
  const Row earlier(row.begin(), row.end() - 1);
  if (earlier.empty()) return std::nullopt;
  Range range{earlier.back()->form->low, earlier.back()->form->high};
  if (than == v1::COMPARED_WITH_BASELINE) {
    const Fact* baseline = Baseline(earlier, asked);
    if (baseline == nullptr) return std::nullopt;
    range = {baseline->form->low, baseline->form->high};
  }
  if (than == v1::COMPARED_WITH_BEST) {
    for (const Fact* fact : earlier) {
      const Form& form = *fact->form;
      range = form.higher_is_worse ? Range{std::min(range.low, form.low),
                                           std::min(range.high, form.high)}
                                   : Range{std::max(range.low, form.low),
                                           std::max(range.high, form.high)};
    }
  }
  return range;
}

v1::Truth OfEachPair(const Range& earlier, const Form& later,
                     const std::function<bool(int, int)>& holds) {
  return OfEach(earlier.low, earlier.high, [&](int before) {
    return OfEach(later.low, later.high,
                  [&](int after) { return Say(holds(before, after)); });
  });
}

}  // namespace turnstone::second

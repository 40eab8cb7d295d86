#include "rules/replay/difference.h"

#include <algorithm>
#include <utility>

namespace turnstone {
namespace {

void Sort(std::vector<Verdict>& verdicts) {
  std::stable_sort(verdicts.begin(), verdicts.end(),
                   [](const Verdict& a, const Verdict& b) {
                     return std::tuple(Subject(a), a.due, a.truth) <
                            std::tuple(Subject(b), b.due, b.truth);
                   });
}

}  // namespace

std::vector<Verdict> LostSafety(const Difference& difference) {
  std::vector<Verdict> lost;
  for (const Verdict& verdict : difference.lost) {
    if (verdict.kind == v1::ALERT_KIND_SAFETY) lost.push_back(verdict);
  }
  for (const ChangedVerdict& changed : difference.changed) {
    if (changed.before.kind == v1::ALERT_KIND_SAFETY &&
        changed.after.kind != v1::ALERT_KIND_SAFETY) {
      lost.push_back(changed.before);
    }
  }
  Sort(lost);
  return lost;
}

void PairUp(Difference& difference) {
  Sort(difference.lost);
  Sort(difference.added);
  std::vector<Verdict> lost;
  std::vector<Verdict> added;
  auto next = difference.added.begin();
  const auto end = difference.added.end();
  for (Verdict& before : difference.lost) {
    while (next != end && Subject(*next) < Subject(before)) {
      added.push_back(std::move(*next++));
    }
    if (next != end && Subject(*next) == Subject(before)) {
      difference.changed.push_back({std::move(before), std::move(*next++)});
    } else {
      lost.push_back(std::move(before));
    }
  }
  std::move(next, end, std::back_inserter(added));
  difference.lost = std::move(lost);
  difference.added = std::move(added);
}

}  // namespace turnstone

#include "rules/prove/form_row.h"

#include <algorithm>
#include <tuple>

namespace turnstone {
namespace {

RowForm MakeRowForm(const Scale& scale, v1::ScreeningResult form) {
  Screening screening{&scale, ScoreForm(scale, form).value(), std::nullopt};
  return {std::move(form), screening.score.total, WasDone(screening),
          SelfHarmOf(screening)};
}

int ScoredItems(const Scale& scale) {
  const auto& items = scale.definition().item();
  return static_cast<int>(
      std::count_if(items.begin(), items.end(),
                    [](const v1::Item& item) { return !item.unscored(); }));
}

}  // namespace

std::vector<RowForm> FormsOfRows(const Scale& scale,
                                 const std::set<size_t>& looked_at) {
  const FormGroups groups(scale, looked_at);
  const int all = ScoredItems(scale);
  std::vector<std::pair<FormSketch, FormSize>> wanted;
  for (const auto& [sketch, group] : groups.groups()) {
    if (sketch.missing > 1 && sketch.missing < all) continue;
    wanted.emplace_back(sketch, group.smallest);
  }
  std::sort(wanted.begin(), wanted.end(), [](const auto& a, const auto& b) {
    return std::tie(a.first.missing, a.first.low, a.second) <
           std::tie(b.first.missing, b.first.low, b.second);
  });
  std::vector<RowForm> forms;
  forms.reserve(wanted.size());
  for (const auto& [sketch, size] : wanted) {
    forms.push_back(MakeRowForm(scale, groups.FormOf(size)));
  }
  return forms;
}

int FormDigest::Baseline(const Row& row, size_t before) const {
  int baseline = -1;
  for (size_t i = 0; i < before; ++i) {
    if (!forms_[static_cast<size_t>(row[i])].done) continue;
    if (baseline == -1 || i < enrolled_after_) baseline = row[i];
  }
  return baseline;
}

Interval FormDigest::Best(const Row& row, size_t before) const {
  Interval best{-1, -1};
  for (size_t i = 0; i < before; ++i) {
    const Interval total = forms_[static_cast<size_t>(row[i])].total;
    if (i == 0) best = total;
    best.low = higher_is_worse_ ? std::min(best.low, total.low)
                                : std::max(best.low, total.low);
    best.high = higher_is_worse_ ? std::min(best.high, total.high)
                                 : std::max(best.high, total.high);
  }
  return best;
}

void FormDigest::AddLast(const Row& row, std::vector<int>& digest) const {
  const int most = std::max(
      {memory_.last, memory_.last_with_baseline, memory_.last_with_best});
  for (int back = 1; back <= most; ++back) {
    const auto ago = static_cast<size_t>(back);
    const bool there = ago <= row.size();
    const size_t before = there ? row.size() - ago : 0;
    digest.push_back(there ? row[before] : -1);
    if (back <= memory_.last_with_baseline) {
      digest.push_back(Baseline(row, before));
    }
    if (back <= memory_.last_with_best) {
      const Interval best = Best(row, before);
      digest.insert(digest.end(), {best.low, best.high});
    }
  }
}

void FormDigest::AddCounts(const Row& row, std::vector<int>& digest) const {
  for (const v1::ScreeningCount& count : memory_.counts) {
    Interval found;
    for (const int step : row) {
      const Interval total = forms_[static_cast<size_t>(step)].total;
      const bool any = !count.has_total_at_most();
      const int most = count.total_at_most().value();
      if (any || total.high <= most) ++found.low;
      if (any || total.low <= most) ++found.high;
    }
    const int least = count.at_least().value();
    digest.push_back(std::min(found.low, least));
    digest.push_back(std::min(found.high, least));
  }
}

template <typename Is>
int FormDigest::WeeksSince(const Row& row, int days, Is is) const {
  const int most = days / 7;
  for (int weeks = 0; weeks < most; ++weeks) {
    const auto ago = static_cast<size_t>(weeks) + 1;
    if (ago > row.size()) break;
    if (is(forms_[static_cast<size_t>(row[row.size() - ago])])) return weeks;
  }
  return most;
}

// Until everybody is enrolled the row stands as it is: which form becomes the
// baseline is still open.
std::vector<int> FormDigest::Of(const Row& row) const {
  if (row.size() < enrolled_after_) return row;
  std::vector<int> digest = {-2};  // unlike any row
  if (memory_.baseline) digest.push_back(Baseline(row, row.size()));
  if (memory_.best) {
    const Interval best = Best(row, row.size());
    digest.insert(digest.end(), {best.low, best.high});
  }
  AddLast(row, digest);
  AddCounts(row, digest);
  digest.push_back(WeeksSince(
      row, memory_.self_harm_days,
      [](const RowForm& form) { return form.self_harm == v1::TRUTH_TRUE; }));
  digest.push_back(WeeksSince(
      row, memory_.self_harm_days,
      [](const RowForm& form) { return form.self_harm == v1::TRUTH_UNKNOWN; }));
  digest.push_back(WeeksSince(row, memory_.screened_days,
                              [](const RowForm& form) { return form.done; }));
  return digest;
}

}  // namespace turnstone

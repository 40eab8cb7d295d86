// Rows of forms with one instrument: what may stand in them, and what of them
// matters later on.
#pragma once

#include <optional>
#include <vector>

#include "rules/engine/history.h"
#include "rules/prove/form_groups.h"
#include "rules/prove/row_memory.h"

namespace turnstone {

// One form of a row, standing for all that are the same to the rules.
struct RowForm {
  v1::ScreeningResult form;
  Interval total;
  bool done = true;
  // As SelfHarmOf.
  std::optional<Truth> self_harm;
};

// Every complete form, every form with one scored item missing, and one that
// was declined as a whole; the lowest totals first. Pure.
[[nodiscard]] std::vector<RowForm> FormsOfRows(
    const Scale& scale, const std::set<size_t>& looked_at);

// What of a row matters. `forms` must outlive it.
class FormDigest {
 public:
  // Enrolled after `enrolled_after` forms: 0, 1 or 2.
  FormDigest(const std::vector<RowForm>& forms, bool higher_is_worse,
             const RowMemory& memory, size_t enrolled_after)
      : forms_(forms),
        higher_is_worse_(higher_is_worse),
        memory_(memory),
        enrolled_after_(enrolled_after) {}

  [[nodiscard]] std::vector<int> Of(const Row& row) const;

 private:
  // Of the first `before` forms, the one that the next is held against: its
  // step, or -1.
  [[nodiscard]] int Baseline(const Row& row, size_t before) const;
  // Both bounds of the best of them.
  [[nodiscard]] Interval Best(const Row& row, size_t before) const;
  void AddLast(const Row& row, std::vector<int>& digest) const;
  void AddCounts(const Row& row, std::vector<int>& digest) const;
  // How many forms ago the latest was for which `is` is true, at most `days`.
  template <typename Is>
  [[nodiscard]] int WeeksSince(const Row& row, int days, Is is) const;

  const std::vector<RowForm>& forms_;
  bool higher_is_worse_;
  RowMemory memory_;
  size_t enrolled_after_;
};

}  // namespace turnstone

// Going through every row of steps up to a length, with rows that no rule can
// tell apart taken together.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace turnstone {

// Steps, by number, from the first on.
using Row = std::vector<int>;

struct WalkPlan {
  // Steps are 0 to steps - 1.
  int steps = 0;
  int longest = 0;
  // What of a row matters for every step that may follow. REQUIRES: two rows
  // with one digest give the same answers after the same further steps.
  std::function<std::vector<int>(const Row&)> digest;
  // Whether what must be so is so at the last step.
  std::function<bool(const Row&)> holds;
  // Whether something that the digests leave out makes it so all the same.
  std::function<bool(const Row&)> holds_otherwise;
};

struct Walked {
  // Rows in all.
  uint64_t cases = 0;
  uint64_t evaluations = 0;
  uint64_t states = 0;
  // The shortest row that fails; the first of these in order of their steps.
  std::optional<Row> failing;
  // The first row of which it cannot be told whether all those like it hold.
  std::optional<Row> unsure;
  // Too much was left to tell apart: it was not gone through to the end.
  bool too_many = false;
};

// Pure if the plan's functions are.
[[nodiscard]] Walked Walk(const WalkPlan& plan);

}  // namespace turnstone

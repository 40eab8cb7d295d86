#include "rules/prove/walk.h"

#include <set>
#include <utility>

#include "rules/prove/big_count.h"

namespace turnstone {
namespace {

// Some minutes' work.
constexpr uint64_t kMostEvaluations = 5'000'000;

uint64_t RowsUpTo(int steps, int longest) {
  uint64_t rows = 0;
  uint64_t of_length = 1;
  for (int length = 1; length <= longest; ++length) {
    of_length = Times(of_length, static_cast<uint64_t>(steps));
    rows = Plus(rows, of_length);
  }
  return rows;
}

// False once a row fails, or it is too much.
bool Look(const Row& row, const WalkPlan& plan, Walked& walked) {
  if (walked.evaluations == kMostEvaluations) {
    walked.too_many = true;
    return false;
  }
  ++walked.evaluations;
  if (plan.holds(row)) return true;
  if (plan.holds_otherwise(row)) {
    if (!walked.unsure) walked.unsure = row;
    return true;
  }
  walked.failing = row;
  return false;
}

}  // namespace

// A digest that was met before was met in a row no longer than this one, so
// that everything that may follow has been, or will be, looked at from there.
Walked Walk(const WalkPlan& plan) {
  Walked walked;
  walked.cases = RowsUpTo(plan.steps, plan.longest);
  std::set<std::vector<int>> met = {plan.digest({})};
  std::vector<Row> rows = {{}};
  for (int length = 1; length <= plan.longest; ++length) {
    std::vector<Row> longer;
    for (const Row& row : rows) {
      for (int step = 0; step < plan.steps; ++step) {
        Row next = row;
        next.push_back(step);
        if (!Look(next, plan, walked)) {
          walked.states = met.size();
          return walked;
        }
        if (met.insert(plan.digest(next)).second) {
          longer.push_back(std::move(next));
        }
      }
    }
    rows = std::move(longer);
  }
  walked.states = met.size();
  return walked;
}

}  // namespace turnstone

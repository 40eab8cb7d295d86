// Three-valued logic and comparison against reference implementations.
// data/three_valued.csv holds what SQLite 3.40.1 and three expression libraries
// answer; SQL's answers are ours (Kleene's strong logic). A missing number is a
// range that holds every number it could be.
#include "rules/measure/truth.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "rules/measure/change.h"

namespace turnstone {
namespace {

std::vector<std::string> Split(const std::string& line) {
  std::vector<std::string> cells;
  std::stringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) {
    cells.push_back(cell);
  }
  return cells;
}

Truth Parse(const std::string& cell) {
  if (cell == "true") return v1::TRUTH_TRUE;
  if (cell == "false") return v1::TRUTH_FALSE;
  EXPECT_EQ(cell, "null");
  return v1::TRUTH_UNKNOWN;
}

// A number, or the range of all that a missing one could be: wider than any
// other number in the table.
Interval Number(const std::string& cell) {
  if (cell == "null") return {-100, 100};
  const int value = std::stoi(cell);
  return {value, value};
}

Interval Minus(Interval a, Interval b) {
  return {a.low - b.high, a.high - b.low};
}

Truth Compare(const std::string& op, Interval a, Interval b) {
  if (op == "ge") return AtLeast(Minus(a, b), 0);
  if (op == "lt") return Not(AtLeast(Minus(a, b), 0));
  return Within(Minus(a, b), {0, 0});
}

Truth Combine(const std::string& op, Truth a, Truth b) {
  if (op == "and") return And(a, b);
  if (op == "or") return Or(a, b);
  if (op == "implies") return Or(Not(a), b);
  const Truth differ = And(Or(a, b), Not(And(a, b)));
  return op == "xor" ? differ : Not(differ);
}

void ExpectSum(Interval a, Interval b, const std::string& expected) {
  const Interval sum{a.low + b.low, a.high + b.high};
  EXPECT_EQ(sum.IsPoint() ? std::to_string(sum.low) : "null", expected);
}

TEST(TruthTest, AgreesWithSqlOnEveryRowOfTheTable) {
  std::ifstream file(TURNSTONE_SOURCE_DIR
                     "/tests/measure/data/three_valued.csv");
  int checked = 0;
  std::string line;
  std::getline(file, line);
  for (; std::getline(file, line); ++checked) {
    SCOPED_TRACE(line);
    const std::vector<std::string> cells = Split(line);
    const std::string& op = cells[0];
    if (op == "not") {
      EXPECT_EQ(Not(Parse(cells[1])), Parse(cells[3]));
    } else if (op == "ge" || op == "lt" || op == "eqn") {
      EXPECT_EQ(Compare(op, Number(cells[1]), Number(cells[2])),
                Parse(cells[3]));
    } else if (op == "add") {
      ExpectSum(Number(cells[1]), Number(cells[2]), cells[3]);
    } else if (op == "between1_2") {
      EXPECT_EQ(Within(Number(cells[1]), {1, 2}), Parse(cells[3]));
    } else {
      EXPECT_THAT(op, ::testing::AnyOf("and", "or", "implies", "xor", "eq"));
      EXPECT_EQ(Combine(op, Parse(cells[1]), Parse(cells[2])), Parse(cells[3]));
    }
  }
  EXPECT_EQ(checked, 116);
}

}  // namespace
}  // namespace turnstone

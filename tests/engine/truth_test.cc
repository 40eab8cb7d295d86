// Three-valued logic against reference implementations. tests/engine/
// three_valued.csv holds what SQLite 3.40.1 and three expression libraries
// answer; SQL's answers are ours (Kleene's strong logic).
#include "rules/engine/truth.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

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

TEST(TruthTest, AgreesWithSqlOnEveryRowOfTheTable) {
  std::ifstream file(TURNSTONE_SOURCE_DIR "/tests/engine/three_valued.csv");
  int checked = 0;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    const std::vector<std::string> cells = Split(line);
    const std::string& op = cells[0];
    if (op != "not" && op != "and" && op != "or") continue;
    const Truth a = Parse(cells[1]);
    const Truth expected = Parse(cells[3]);
    Truth got = Not(a);
    if (op == "and") got = And(a, Parse(cells[2]));
    if (op == "or") got = Or(a, Parse(cells[2]));
    EXPECT_EQ(got, expected) << line;
    ++checked;
  }
  // 3 for "not", 9 each for "and" and "or".
  EXPECT_EQ(checked, 21);
}

}  // namespace
}  // namespace turnstone

// data/trend_cases.csv: series of 3 to 7 scores worked out by SciPy 1.10, exact
// probabilities by going through every order. Each cell is held to 1e-9,
// absolute or relative, save for columns of figures we do not compute: Siegel's
// repeated medians (siegel_*) and a second intercept of the Theil-Sen line
// (theil_intercept_joint).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "platform/files.h"
#include "tests/reference/comparison.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;

TEST(TrendTable, EveryFigureAgrees) {
  const auto text =
      ReadFile(TURNSTONE_SOURCE_DIR "/tests/measure/data/trend_cases.csv");
  ASSERT_TRUE(text.ok()) << text.status().ToString();
  const auto table = ParseCsv(*text);
  ASSERT_TRUE(table.ok()) << table.status().ToString();
  const auto comparison = reference::CompareTrends(*table);
  ASSERT_TRUE(comparison.ok()) << comparison.status().ToString();
  for (const reference::Mismatch& mismatch : comparison->mismatches) {
    ADD_FAILURE() << "line " << mismatch.line << ", column " << mismatch.column
                  << ": got " << mismatch.got << ", expected "
                  << mismatch.expected;
  }
  EXPECT_EQ(comparison->rows, 20);
  // 28 columns but for case, t, y, note and the three below.
  EXPECT_EQ(comparison->values, 20 * 21);
  EXPECT_THAT(
      comparison->not_computed,
      ElementsAre("theil_intercept_joint", "siegel_slope", "siegel_intercept"));
}

}  // namespace
}  // namespace turnstone

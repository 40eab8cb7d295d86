// The false-alarm budget of the shipped rules. Expected shares: clinical
// sources, table "False-alarm budget".
#include "rules/check/noise_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/shipped.h"

namespace turnstone {
namespace {

NoiseOf Of(const std::vector<NoiseOf>& all, const std::string& rule) {
  const auto found =
      std::find_if(all.begin(), all.end(),
                   [&](const NoiseOf& each) { return each.rule == rule; });
  EXPECT_NE(found, all.end()) << rule;
  return found == all.end() ? NoiseOf{} : *found;
}

TEST(NoiseReport, ShippedRules) {
  const std::vector<NoiseOf> all = ReckonNoise(ShippedConfiguration());
  const NoiseOf worse = Of(all, "reliable-deterioration");
  EXPECT_EQ(worse.site, "pebble-bay");
  ASSERT_EQ(worse.row.size(), 4U);
  EXPECT_EQ(worse.row[0].preset, "kroenke-2001-retest");
  std::vector<int> follow_ups;
  for (const NoiseAt& at : worse.row[0].at) follow_ups.push_back(at.follow_ups);
  EXPECT_THAT(follow_ups, testing::ElementsAre(1, 3, 5, 7));
  EXPECT_NEAR(worse.row[0].at[3].chance.share, 0.173, 0.001);
  EXPECT_NEAR(worse.row[2].at[3].chance.share, 0.086, 0.001);
  // Rounded totals, simulated outside with NumPy, 300,000 courses: 22.3 % and
  // 12.5 %; the half point is an approximation.
  EXPECT_TRUE(worse.row[1].whole_totals);
  EXPECT_NEAR(worse.row[1].at[3].chance.share, 0.223, 0.01);
  EXPECT_NEAR(worse.row[3].at[3].chance.share, 0.125, 0.01);
  // Orders alone decide on rises.
  EXPECT_FALSE(Of(all, "rising-scores").row[0].sem.has_value());
  // Looking for no change is no false alarm, so nothing is reckoned.
  const NoiseOf none = Of(all, "early-non-response");
  EXPECT_TRUE(none.row.empty());
  EXPECT_NE(none.note, "");
}

TEST(NoiseReport, WithoutASiteTheRuleSetsOwnNumbersCount) {
  v1::Configuration configuration = ShippedConfiguration();
  configuration.clear_site();
  const NoiseOf anxiety =
      Of(ReckonNoise(configuration), "anxiety-deterioration");
  EXPECT_EQ(anxiety.site, "");
  ASSERT_EQ(anxiety.row.size(), 4U);
  // 5 points, SEM 1.94: 1 - Phi(5 / (1.94 sqrt 2)) at one follow-up.
  EXPECT_NEAR(anxiety.row[2].at[0].chance.share, 0.0342, 0.0005);
}

TEST(NoiseReport, SaysWhereTheMeasurementErrorIsNotKnown) {
  v1::Configuration configuration = ShippedConfiguration();
  for (v1::Instrument& instrument : *configuration.mutable_instrument()) {
    if (instrument.id() == "gad-7") instrument.clear_change_preset();
  }
  const NoiseOf anxiety =
      Of(ReckonNoise(configuration), "anxiety-deterioration");
  EXPECT_TRUE(anxiety.row.empty());
  EXPECT_EQ(anxiety.note,
            "the measurement error of GAD-7 is not known here; add a "
            "change_preset with standard_deviation and reliability to its "
            "file");
}

}  // namespace
}  // namespace turnstone

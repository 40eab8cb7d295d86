// What the rationale of the self-harm rule says of published studies. Clinical
// sources, cases 45 and 46.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/shipped.h"

namespace turnstone {
namespace {

// Of those who answered item 9 positively, how many met interview criteria.
struct Study {
  double forms;
  double positive;  // on item 9
  double criteria;  // met by interview
  double sensitivity;
  [[nodiscard]] double TruePositives() const {
    return std::round(criteria * sensitivity);
  }
  [[nodiscard]] double PredictiveValue() const {
    return TruePositives() / positive;
  }
  [[nodiscard]] double Specificity() const {
    const double without = forms - criteria;
    return (without - (positive - TruePositives())) / without;
  }
};

// Na 2018: 841 forms, 41.1 % positive, criteria met by 13.4 %.
const Study kNa = {841, std::round(841 * 0.411), 841 * 0.134, 0.876};
// Chung 2023: 2677 forms, 846 positive, criteria met by 312.
const Study kChung = {2677, 846, 312, 0.747};

TEST(PublishedCounts, Case45Na2018) {
  EXPECT_EQ(kNa.TruePositives(), 99);
  EXPECT_EQ(kNa.positive, 346);
  EXPECT_NEAR(kNa.PredictiveValue(), 0.286, 0.0005);
}

TEST(PublishedCounts, Case46Chung2023) {
  EXPECT_EQ(kChung.TruePositives(), 233);
  EXPECT_NEAR(kChung.PredictiveValue(), 0.275, 0.0005);
  EXPECT_NEAR(kChung.Specificity(), 0.741, 0.0005);
}

// The rule says so to whoever gets the alert, and names both.
TEST(PublishedCounts, ShippedRuleSaysWhatTheyShow) {
  ASSERT_LT(kNa.PredictiveValue(), 0.5);
  ASSERT_LT(kChung.PredictiveValue(), 0.5);
  const v1::Configuration shipped = ShippedConfiguration();
  const auto& rules = shipped.rule_set(0).rule();
  const auto rule = std::find_if(
      rules.begin(), rules.end(),
      [](const v1::Rule& it) { return it.id() == "self-harm-positive"; });
  ASSERT_NE(rule, rules.end());
  EXPECT_THAT(rule->rationale(),
              testing::HasSubstr("most positive answers do not meet interview "
                                 "criteria"));
  EXPECT_THAT(rule->source(), testing::AllOf(testing::HasSubstr("Na 2018"),
                                             testing::HasSubstr("Chung 2023")));
}

}  // namespace
}  // namespace turnstone

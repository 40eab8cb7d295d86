// The PHQ-9 algorithm: Spitzer 1999, Kroenke 2001. Cases worked by hand from
// the published rule.
#include "rules/measure/symptom_count.h"

#include <gtest/gtest.h>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

struct SymptomCase {
  std::string why;
  std::vector<int> ticks;
  Interval count;
  std::optional<SymptomPattern> pattern;
};

class SymptomCases : public ::testing::TestWithParam<SymptomCase> {};

TEST_P(SymptomCases, FollowThePublishedRule) {
  const SymptomCase& expected = GetParam();
  const Scale scale = LoadScale("phq-9");
  const auto result =
      CountSymptoms(scale, MustScore(scale, Fill(Phq9(), expected.ticks)));
  ASSERT_TRUE(result);
  EXPECT_EQ(result->count.low, expected.count.low) << expected.why;
  EXPECT_EQ(result->count.high, expected.count.high) << expected.why;
  EXPECT_EQ(result->pattern, expected.pattern) << expected.why;
}

INSTANTIATE_TEST_SUITE_P(
    Phq9, SymptomCases,
    ::testing::Values(SymptomCase{"four at 2, item 9 at 1, item 1 among them",
                                  {2, 0, 2, 2, 2, 0, 0, 0, 1},
                                  {5, 5},
                                  SymptomPattern::kMajor},
                      SymptomCase{"six, but neither item 1 nor 2",
                                  {0, 0, 3, 3, 3, 3, 3, 3, 0},
                                  {6, 6},
                                  SymptomPattern::kNone},
                      SymptomCase{"two, item 1 among them",
                                  {2, 1, 2, 1, 1, 1, 1, 0, 0},
                                  {2, 2},
                                  SymptomPattern::kOther},
                      SymptomCase{"four, item 2 among them",
                                  {1, 2, 2, 2, 2, 1, 1, 1, 0},
                                  {4, 4},
                                  SymptomPattern::kOther},
                      SymptomCase{"item 1 alone",
                                  {3, 1, 1, 1, 1, 1, 1, 1, 0},
                                  {1, 1},
                                  SymptomPattern::kNone},
                      SymptomCase{"four, and a blank that could be the fifth",
                                  {2, 2, 2, 2, kBlank, 0, 0, 0, 0},
                                  {4, 5},
                                  std::nullopt},
                      SymptomCase{"five, whatever the blanks are",
                                  {2, 2, 2, 2, 2, kBlank, kBlank, 0, 0},
                                  {5, 7},
                                  SymptomPattern::kMajor},
                      SymptomCase{"a blank item 1 could be the core symptom",
                                  {kBlank, 0, 3, 3, 3, 3, 0, 0, 0},
                                  {4, 5},
                                  std::nullopt},
                      SymptomCase{"no core symptom, whatever the blank is",
                                  {0, 0, 3, 3, 3, 3, kBlank, 0, 0},
                                  {4, 5},
                                  SymptomPattern::kNone}));

TEST(SymptomCount, NothingIsKnownFromATotalAlone) {
  const Scale scale = LoadScale("phq-9");
  v1::ScreeningResult form;
  form.set_reported_total(20);
  const auto result = CountSymptoms(scale, MustScore(scale, form));
  ASSERT_TRUE(result);
  EXPECT_EQ(result->count, (Interval{0, 9}));
  EXPECT_EQ(result->pattern, std::nullopt);
}

TEST(SymptomCount, OtherInstrumentsHaveNone) {
  const Scale scale = LoadScale("gad-7");
  EXPECT_FALSE(CountSymptoms(
      scale, MustScore(scale, Fill(Gad7(), {1, 1, 1, 1, 1, 1, 1}))));
}

}  // namespace
}  // namespace turnstone::testing

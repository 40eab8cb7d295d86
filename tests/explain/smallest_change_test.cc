// By what a silent rule would have spoken. Source: the shipped rules, worked by
// hand; PHQ-9 items score 0 to 3 (Kroenke 2001).
#include "rules/explain/smallest_change.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/explain/as_corrected.h"
#include "tests/explain/known.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::SizeIs;
using testing::StartsWith;

class SmallestChangeTest : public KnownTest {
 protected:
  std::optional<Change> Find(const std::string& rule,
                             const std::string& event) {
    return SmallestChange(Rule(rule), {"urn:test", event}, AsCorrected(events_),
                          KnownAt(start_));
  }
};

// Six items at 3, the seventh at 1.
TEST_F(SmallestChangeTest, OneStepWhereOneIsEnough) {
  Know(Phq9Total("form", start_, 19));
  const auto change = Find("score-above-range", "form");
  ASSERT_TRUE(change);
  EXPECT_THAT(
      change->steps,
      ElementsAre(StartsWith("if the PHQ-9 of 4 Jan 2027 had 2 points on")));
  EXPECT_THAT(change->why, HasSubstr("total is 20"));
}

// However far the total is off, it is one step.
TEST_F(SmallestChangeTest, ATotalFarOffIsOneStep) {
  Know(Phq9Total("form", start_, 4));
  const auto change = Find("score-above-range", "form");
  ASSERT_TRUE(change);
  EXPECT_THAT(change->steps,
              ElementsAre("if the PHQ-9 of 4 Jan 2027 came to 20 points in all "
                          "instead of 4"));
  EXPECT_THAT(change->why, HasSubstr("total is 20"));
}

// Below the range, and unwilling.
TEST_F(SmallestChangeTest, TwoThingsAreTwoSteps) {
  v1::Event form = Phq9Total("form", start_, 4);
  form.mutable_screening_result()->set_willing(false);
  Know(form);
  const auto change = Find("score-in-range-and-willing", "form");
  ASSERT_TRUE(change);
  EXPECT_THAT(change->steps, SizeIs(2));
}

// Below the range, unwilling, and enrolled.
TEST_F(SmallestChangeTest, NoneWhereTwoStepsAreNotEnough) {
  Know(Enrolled("in", start_ - absl::Hours(24)));
  v1::Event form = Phq9Total("form", start_, 4);
  form.mutable_screening_result()->set_willing(false);
  Know(form);
  EXPECT_FALSE(Find("score-in-range-and-willing", "form"));
}

TEST_F(SmallestChangeTest, AnAnswerLeftOutIsAStep) {
  Know(Phq9Total("form", start_, 4));
  const auto change = Find("self-harm-unanswered", "form");
  ASSERT_TRUE(change);
  EXPECT_THAT(
      change->steps,
      ElementsAre(StartsWith("if the PHQ-9 of 4 Jan 2027 had no answer to")));
}

// Two missed in a row raise; the second was attended.
TEST_F(SmallestChangeTest, AnotherOutcomeIsAStep) {
  Know(Outcome("one", start_ - absl::Hours(24), "visit-1",
               v1::VISIT_OUTCOME_KIND_NO_ANSWER));
  Know(Outcome("two", start_, "visit-2", v1::VISIT_OUTCOME_KIND_ATTENDED));
  const auto change = Find("missed-visits", "two");
  ASSERT_TRUE(change);
  EXPECT_THAT(change->steps,
              ElementsAre("if the outcome of visit-2 of 4 Jan 2027 were \"no "
                          "answer\" instead of \"attended\""));
}

TEST_F(SmallestChangeTest, APercentIsAStep) {
  Know(Confidence("said", start_, 80));  // the site's number is 80
  const auto change = Find("low-practice-confidence", "said");
  ASSERT_TRUE(change);
  EXPECT_THAT(change->steps,
              ElementsAre("if the practice report of 4 Jan 2027 had a "
                          "confidence of 79 % instead of 80"));
}

// A day later the form would have come after the discharge, but that lies
// ahead.
TEST_F(SmallestChangeTest, NoStepLeadsIntoTheFuture) {
  Know(Enrolled("in", start_ - absl::Hours(240)));
  v1::Event form = Phq9Total("form", start_ - absl::Hours(1), 12);
  form.mutable_screening_result()->set_willing(true);
  Know(form);
  Know(Discharged("out", start_));
  const auto change = Find("score-in-range-and-willing", "form");
  ASSERT_TRUE(change);
  EXPECT_THAT(change->steps, ElementsAre("if the discharge of 4 Jan 2027 came "
                                         "a day earlier"));
}

// Numbers that the rule names may be reached at once.
TEST_F(SmallestChangeTest, AFarNumberIsAStepToo) {
  Know(Confidence("said", start_, 100));
  const auto change = Find("low-practice-confidence", "said");
  ASSERT_TRUE(change);
  EXPECT_THAT(change->steps,
              ElementsAre("if the practice report of 4 Jan 2027 had a "
                          "confidence of 79 % instead of 100"));
}

// What is far from the event counts too: the first form is the baseline.
TEST_F(SmallestChangeTest, AnEarlierEventCanBeTheOneThatCounts) {
  Know(Phq9Total("base", start_ - absl::Hours(24 * 7), 8));
  Know(Phq9("form", start_, {3, 3, 3, 1, 1, 1, 1, 0, 0}));
  const auto change = Find("reliable-deterioration", "form");
  ASSERT_TRUE(change);
  EXPECT_THAT(change->steps, SizeIs(1));
}

}  // namespace
}  // namespace turnstone

// Histories one step away. Expectations: the comments of neighbours.h; steps
// are counted by hand.
#include "rules/examples/neighbours.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "tests/examples/tried_rules.h"

namespace turnstone {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

class NeighboursTest : public ::testing::Test {
 protected:
  // What may be otherwise about the last of `facts`; `size` only.
  std::vector<std::string> Differs(const std::string& facts, StepSize size) {
    events_ = EventsOf(facts, setup_);
    steps_ = StepsFrom(events_, setup_.catalogue(), options_);
    std::vector<std::string> differs;
    for (const Step& step : steps_) {
      if (step.size == size && step.at + 1 == events_.size()) {
        differs.push_back(step.differs);
      }
    }
    return differs;
  }
  const Step& StepThat(const std::string& differs) {
    const auto found =
        std::find_if(steps_.begin(), steps_.end(), [&](const Step& step) {
          return step.differs.find(differs) != std::string::npos;
        });
    if (found != steps_.end()) return *found;
    ADD_FAILURE() << "no step: " << differs;
    static const Step none;
    return none;
  }

  turnstone::Setup setup_ = SetUpRule("contact {}", "enrolled {}");
  StepOptions options_;
  std::vector<v1::Event> events_;
  std::vector<Step> steps_;
};

TEST_F(NeighboursTest, AnAnswerIsAStepBetterWorseOrLeftOut) {
  EXPECT_THAT(
      Differs("fact { day: 0 form { instrument: \"phq-2\" points: \"0 2\" } }",
              StepSize::kOneThing),
      ElementsAre("the PHQ-2 of 4 Jan 2027 had 1 point on \"Little interest\" "
                  "instead of 0",
                  "the PHQ-2 of 4 Jan 2027 had no answer to \"Little "
                  "interest\"",
                  "the PHQ-2 of 4 Jan 2027 had 1 point on \"Down, depressed, "
                  "hopeless\" instead of 2",
                  "the PHQ-2 of 4 Jan 2027 had 3 points on \"Down, depressed, "
                  "hopeless\" instead of 2",
                  "the PHQ-2 of 4 Jan 2027 had no answer to \"Down, depressed, "
                  "hopeless\"",
                  "the PHQ-2 of 4 Jan 2027 came with the wish to take part",
                  "the PHQ-2 of 4 Jan 2027 came with the wish not to take "
                  "part"));
}

TEST_F(NeighboursTest, AnUnansweredItemIsAnsweredInEveryWay) {
  const auto differs =
      Differs("fact { day: 0 form { instrument: \"phq-2\" points: \"- 2\" } }",
              StepSize::kOneThing);
  EXPECT_THAT(differs[0],
              "the PHQ-2 of 4 Jan 2027 had 0 points on \"Little "
              "interest\", which was not answered");
  EXPECT_THAT(differs[3], HasSubstr("had 3 points on \"Little interest\""));
}

// The self-harm item is no exception.
TEST_F(NeighboursTest, EvenTheSelfHarmItemMayBeLeftOut) {
  EXPECT_THAT(Differs("fact { day: 0 form { instrument: \"phq-9\" points: \"0 "
                      "0 0 0 0 0 0 0 1\" } }",
                      StepSize::kOneThing),
              Contains("the PHQ-9 of 4 Jan 2027 had no answer to \"Better off "
                       "dead or hurting self\""));
}

TEST_F(NeighboursTest, TheReportedTotalMovesWithTheAnswersItAgreesWith) {
  (void)Differs(
      "fact { day: 0 form { instrument: \"phq-2\" points: \"0 2\" "
      "total: 2 } }",
      StepSize::kOneThing);
  EXPECT_EQ(StepThat("3 points").instead->screening_result().reported_total(),
            3);
  EXPECT_EQ(StepThat("total of 1").instead->screening_result().reported_total(),
            1);
  (void)Differs(
      "fact { day: 0 form { instrument: \"phq-2\" points: \"0 2\" "
      "total: 6 } }",
      StepSize::kOneThing);
  EXPECT_EQ(StepThat("3 points").instead->screening_result().reported_total(),
            6);
}

TEST_F(NeighboursTest, ATotalAloneIsAPointOffAndMayJump) {
  options_.numbers = {20, 28};
  const std::string fact =
      "fact { day: 0 form { instrument: \"phq-9\" total: 27 willing: true } }";
  EXPECT_THAT(Differs(fact, StepSize::kOneThing),
              ElementsAre("the PHQ-9 of 4 Jan 2027 had a reported total of 26 "
                          "instead of 27",
                          "the PHQ-9 of 4 Jan 2027 came with the wish not to "
                          "take part",
                          "the PHQ-9 of 4 Jan 2027 did not say whether the "
                          "person wants to take part"));
  EXPECT_THAT(Differs(fact, StepSize::kManyPoints),
              ElementsAre(HasSubstr("total of 20 instead of 27")));
}

TEST_F(NeighboursTest, OtherFactsHaveTheirOwnSteps) {
  EXPECT_THAT(Differs("fact { day: 0 visit { visit: \"visit-1\" outcome: "
                      "VISIT_OUTCOME_KIND_UNABLE } }"
                      "fact { day: 0 enrolled { planned_visits: 52 } }",
                      StepSize::kOneThing),
              ElementsAre("the enrolment of 4 Jan 2027 planned 51 visits "
                          "instead of 52"));
  const auto visit = Differs(
      "fact { day: 0 enrolled {} } fact { day: 0 visit { visit: \"visit-1\" "
      "outcome: VISIT_OUTCOME_KIND_UNABLE } }",
      StepSize::kOneThing);
  EXPECT_EQ(visit.size(), 5U);
  EXPECT_EQ(visit[0],
            "the outcome of visit-1 of 4 Jan 2027 were \"attended\" "
            "instead of \"unable (hospital, bereavement)\"");
  EXPECT_EQ(Differs("fact { day: 0 enrolled {} } fact { day: 0 discharged { "
                    "reason: DISCHARGE_REASON_DIED } }",
                    StepSize::kOneThing)
                .size(),
            6U);
  options_.numbers = {80};
  const std::string report = "fact { day: 0 practice { confidence: 100 } }";
  EXPECT_THAT(Differs(report, StepSize::kOneThing),
              ElementsAre("the practice report of 4 Jan 2027 had a confidence "
                          "of 99 % instead of 100",
                          "the practice report of 4 Jan 2027 had no "
                          "confidence"));
  EXPECT_THAT(Differs(report, StepSize::kManyPoints),
              ElementsAre(HasSubstr("80 % instead of 100")));
  EXPECT_THAT(Differs("fact { day: 0 form { instrument: \"cognitive-screen\" "
                      "result: \"at-or-above-cut\" willing: true } }",
                      StepSize::kOneThing),
              Contains(HasSubstr("came out as ")));
}

TEST_F(NeighboursTest, ADayEarlierOrLaterLeftOutOrOnceMore) {
  const std::string facts =
      "fact { day: 0 enrolled {} } fact { day: 2 planned { visit: \"v\" "
      "start_day: 4 } }";
  EXPECT_THAT(Differs(facts, StepSize::kOneDay),
              ElementsAre("the plan for v of 6 Jan 2027 were for 7 Jan 2027 "
                          "instead of 8 Jan 2027",
                          "the plan for v of 6 Jan 2027 were for 9 Jan 2027 "
                          "instead of 8 Jan 2027",
                          "the plan for v of 6 Jan 2027 came a day earlier",
                          "the plan for v of 6 Jan 2027 came a day later"));
  EXPECT_THAT(Differs(facts, StepSize::kOneEvent),
              ElementsAre("the plan for v of 6 Jan 2027 were not there"));
  const std::vector<v1::Event> left = Take(StepThat("not there"), events_);
  ASSERT_EQ(left.size(), 1U);
  EXPECT_TRUE(left[0].has_enrolment());
  options_.asked = EventKey{"examples", "fact-2"};
  EXPECT_THAT(Differs(facts, StepSize::kOneEvent), IsEmpty());
}

TEST_F(NeighboursTest, VisitsAndFormsMayBeThereOnceMore) {
  EXPECT_THAT(Differs("fact { day: 0 enrolled {} } fact { day: 7 visit { "
                      "visit: \"v\" outcome: "
                      "VISIT_OUTCOME_KIND_NO_ANSWER } }",
                      StepSize::kOneEvent),
              Contains("there were one more like the outcome of v of 11 Jan "
                       "2027 the day before"));
  const std::vector<v1::Event> all = Take(StepThat("one more"), events_);
  ASSERT_EQ(all.size(), 3U);
  const std::vector<v1::Event> two(all.begin() + 1, all.end());
  EXPECT_NE(two[0].event_id(), two[1].event_id());
  EXPECT_NE(two[0].visit_outcome().visit(), two[1].visit_outcome().visit());
  EXPECT_EQ(FromProto(two[0].effective_time()) - absl::Hours(24),
            FromProto(two[1].effective_time()));
  EXPECT_THAT(
      Differs("fact { day: 7 form { instrument: \"phq-9\" total: 9 } }",
              StepSize::kOneEvent),
      ElementsAre(HasSubstr("were not there"), HasSubstr("the day before"),
                  HasSubstr("the day before, a step lower"),
                  HasSubstr("the day before, a step higher")));
  EXPECT_EQ(
      StepThat("step higher").instead->screening_result().reported_total(), 10);
}

TEST_F(NeighboursTest, TheSmallestComeFirstAndAmongThemTheEventAskedAbout) {
  options_.asked = EventKey{"examples", "fact-1"};
  (void)Differs(
      "fact { day: 0 practice { confidence: 50 } } fact { day: 1 enrolled {} } "
      "fact { day: 2 practice { confidence: 50 } }",
      StepSize::kOneThing);
  ASSERT_GT(steps_.size(), 8U);
  EXPECT_THAT(steps_[0].differs,
              HasSubstr("4 Jan 2027 had a confidence of 49"));
  EXPECT_THAT(steps_[3].differs,
              HasSubstr("6 Jan 2027 had a confidence of 49"));
  EXPECT_THAT(steps_[6].differs, HasSubstr("planned 7 visits instead of 8"));
  EXPECT_TRUE(std::is_sorted(
      steps_.begin(), steps_.end(),
      [](const Step& a, const Step& b) { return a.size < b.size; }));
}

}  // namespace
}  // namespace turnstone

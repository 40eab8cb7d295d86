// The sentences a clinician reads, written by hand and compared whole.
#include "rules/engine/wording.h"

#include <gtest/gtest.h>

#include <map>
#include <string>

#include "rules/engine/decide.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

class WordingTest : public testing::Test {
 protected:
  // The sentence of every rule that raises about `event`, by rule id.
  std::map<std::string, std::string> WhyAbout(const v1::Event& event) {
    const HistoryChange change =
        history_.Apply(event, setup_.catalogue()).value();
    std::map<std::string, std::string> why;
    const Asking asking{change.from, absl::InfinitePast(), change.from};
    for (const Answer& answer : Decide(site_, history_, {}, asking)) {
      if (answer.raise) why[answer.rule->id()] = answer.why;
    }
    return why;
  }

  const turnstone::Setup setup_ = ShippedSetup();
  const Site& site_ = *setup_.FindSite("pebble-bay");
  History history_;
  const absl::Time when_ = At("2027-01-04T10:00:00Z");
};

TEST_F(WordingTest, PositiveSelfHarmItem) {
  EXPECT_EQ(WhyAbout(Phq9Total("e", when_, 9, 1))["self-harm-positive"],
            "The self-harm item of the PHQ-9 was answered with 1 point, which "
            "is 1 or more.");
}

TEST_F(WordingTest, UnansweredSelfHarmItem) {
  EXPECT_EQ(WhyAbout(Phq9("e", when_,
                          {0, 0, 0, 0, 0, 0, 0, 0}))["self-harm-unanswered"],
            "The self-harm item of the PHQ-9 was left unanswered.");
}

TEST_F(WordingTest, ScoreAboveTheRange) {
  EXPECT_EQ(WhyAbout(Phq9Total("e", when_, 22))["score-above-range"],
            "The PHQ-9 total is 22 (severe) on 4 Jan 2027, which is 20 or "
            "more.");
}

TEST_F(WordingTest, ScoreThatMayBeAboveTheRange) {
  EXPECT_EQ(
      WhyAbout(Phq9("e", when_, {3, 3, 3, 3, 3, 3, 0, 0}))["score-above-range"],
      "To be checked by a person, information is missing: the PHQ-9 total "
      "lies in 18 to 21 with 1 answer missing on 4 Jan 2027, which may or may "
      "not be 20 or more.");
}

TEST_F(WordingTest, ReliablyWorse) {
  (void)WhyAbout(Phq9Total("a", when_, 10));
  EXPECT_EQ(WhyAbout(Phq9Total("b", when_ + absl::Hours(24 * 7),
                               16))["reliable-deterioration"],
            "The PHQ-9 total went from 10 on 4 Jan 2027 to 16 on 11 Jan 2027, "
            "which is 6 points worse or more.");
}

TEST_F(WordingTest, WhoseNumberItWas) {
  const HistoryChange change =
      history_.Apply(Confidence("e", when_, 70), setup_.catalogue()).value();
  const Asking asking{change.from, absl::InfinitePast(), change.from};
  const auto answers = Decide(site_, history_, {}, asking);
  ASSERT_EQ(answers.size(), 1u);
  EXPECT_EQ(answers[0].why,
            "Confidence in doing the practice is 70 %, which is below 80 %.");
  EXPECT_EQ(answers[0].trace.condition(), "confidence below");
  ASSERT_EQ(answers[0].trace.setting_size(), 1);
  EXPECT_EQ(answers[0].trace.setting(0), "practice-confidence = 80 (site)");
}

TEST_F(WordingTest, OneLineOfATimeline) {
  (void)WhyAbout(Phq9Total("a", when_, 12));
  (void)WhyAbout(Outcome("b", when_ + absl::Hours(1), "visit-3",
                         v1::VISIT_OUTCOME_KIND_REFUSED_AT_DOOR));
  EXPECT_EQ(FactInWords(history_.facts()[0]), "PHQ-9 12 (moderate)");
  EXPECT_EQ(FactInWords(history_.facts()[1]), "visit-3: refused at the door");
}

}  // namespace
}  // namespace turnstone

// What the conditions of a rule can be together, and what examples show.
// Worked by hand; three-valued logic as in tests/measure, coverage by the
// definition of masking MC/DC (Chilenski, DOT/FAA/AR-01/18).
#include "rules/examples/reach.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "rules/examples/complete_forms.h"
#include "rules/examples/example_setup.h"
#include "rules/examples/formula.h"
#include "rules/examples/possible.h"
#include "rules/measure/score.h"
#include "tests/examples/tried_rules.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::UnorderedElementsAre;

// "TFU": one letter for each single condition.
std::set<std::string> Combinations(const std::string& when,
                                   const std::string& condition) {
  const auto setup = SetUpRule(when, condition);
  std::set<std::string> found;
  EXPECT_TRUE(
      ForEachCombination(ExampleSite(setup).rules.rule(0), setup.catalogue(),
                         [&](const std::vector<Truth>& singles) {
                           std::string letters;
                           for (const Truth truth : singles) {
                             letters += truth == v1::TRUTH_TRUE    ? 'T'
                                        : truth == v1::TRUTH_FALSE ? 'F'
                                                                   : 'U';
                           }
                           found.insert(letters);
                         }));
  return found;
}

std::string AllOf(const std::vector<std::string>& conditions) {
  std::string text = "all_of {";
  for (const std::string& each : conditions) {
    text += " condition { " + each + " }";
  }
  return text + " }";
}

const std::string kLow = "score { instrument: \"phq-9\" at_most { value: 9 } }";
const std::string kHigh =
    "score { instrument: \"phq-9\" at_least { value: 10 } }";

TEST(Tied, RangesOfOneTotal) {
  EXPECT_THAT(Combinations(kPhq9, AllOf({kLow, kHigh})),
              UnorderedElementsAre("TF", "FT", "UU"));
  const std::string severe =
      "score { instrument: \"phq-9\" at_least { value: 20 } }";
  // Both unknown, too, where a form was declined as a whole.
  EXPECT_THAT(Combinations(kPhq9, AllOf({kHigh, severe})),
              UnorderedElementsAre("FF", "TF", "TT", "UF", "TU", "UU"));
}

TEST(Tied, TotalsOfTwoInstrumentsAreFree) {
  const std::string other =
      "score { instrument: \"gad-7\" at_least { value: 10 } }";
  EXPECT_EQ(Combinations(kPhq9, AllOf({kHigh, other})).size(), 9U);
}

// Asked about something else, there may be no form at all.
TEST(Tied, ATotalMayBeLacking) {
  const std::string any =
      "score { instrument: \"phq-9\" at_least { value: 0 } }";
  EXPECT_THAT(Combinations(kPhq9, any), UnorderedElementsAre("T"));
  EXPECT_THAT(Combinations("visit_outcome {}", any),
              UnorderedElementsAre("T", "U"));
}

TEST(Tied, AnItemAndItsBeingUnanswered) {
  const std::string positive = "item { self_harm: true at_least { value: 1 } }";
  EXPECT_THAT(
      Combinations(kPhq9,
                   AllOf({positive, "item_unanswered { self_harm: true }"})),
      UnorderedElementsAre("TF", "FF", "UT"));
  // The same item by its code; another one is free.
  EXPECT_THAT(
      Combinations(kPhq9, AllOf({positive,
                                 "item_unanswered { question: \"44260-8\" }"})),
      UnorderedElementsAre("TF", "FF", "UT"));
  EXPECT_EQ(
      Combinations(
          kPhq9, AllOf({positive, "item_unanswered { question: \"44259-0\" }"}))
          .size(),
      6U);
}

TEST(Tied, TheWishAndItsBeingRecorded) {
  EXPECT_THAT(Combinations(kPhq9, AllOf({"willing {}", "wish_recorded {}"})),
              UnorderedElementsAre("TT", "FT", "UF"));
}

TEST(Tied, EnrolmentAndDischarge) {
  EXPECT_THAT(
      Combinations(kPhq9,
                   AllOf({"enrolled {}",
                          "discharged_as { reason: DISCHARGE_REASON_DIED }",
                          "discharged_as { reason: DISCHARGE_REASON_OTHER }"})),
      UnorderedElementsAre("TFF", "FFF", "FTF", "FFT"));
}

TEST(Tied, AttendedVisits) {
  // Three or more, all planned, and all planned by asking.
  EXPECT_THAT(
      Combinations(kPhq9, AllOf({"attended_visits { at_least { value: 3 } }",
                                 "attended_visits {}",
                                 "attended_visits { by_asking: true }"})),
      UnorderedElementsAre("FFF", "FFT", "FTT", "TFF", "TFT", "TTT"));
}

TEST(Tied, NumbersAndResults) {
  EXPECT_THAT(
      Combinations("practice_report {}",
                   AllOf({"confidence_below { percent { value: 50 } }",
                          "confidence_below { percent { value: 90 } }"})),
      UnorderedElementsAre("TT", "FT", "FF", "UU"));
  EXPECT_THAT(
      Combinations("visit_outcome {}",
                   AllOf({"missed_in_a_row { at_least { value: 2 } }",
                          "missed_in_a_row { at_least { value: 3 } }"})),
      UnorderedElementsAre("TT", "TF", "FF"));
  EXPECT_THAT(Combinations("screening { instrument: \"self-harm-follow-up\" }",
                           AllOf({"result { code: \"plan-made\" }",
                                  "result { code: \"plan-made\" }"})),
              UnorderedElementsAre("TT", "FF"));
}

TEST(Tied, TooManyAreNotGoneThrough) {
  std::vector<std::string> many;
  for (int i = 1; i <= 12; ++i) {
    many.push_back("worse_in_a_row { instrument: \"phq-9\" times { value: " +
                   std::to_string(i) + " } }");
  }
  const auto setup = SetUpRule(kPhq9, AllOf(many));  // 3^12 = 531441
  const Reach reach =
      ReachOf(ExampleSite(setup).rules.rule(0), setup.catalogue());
  EXPECT_TRUE(reach.too_many);
  EXPECT_TRUE(reach.part[0].is_true && reach.part[0].is_false);
}

TEST(Reach, KnowsWhatNeverComesTogether) {
  const auto setup = SetUpRule(kPhq9, AllOf({kLow, kHigh}));
  const Reach reach =
      ReachOf(ExampleSite(setup).rules.rule(0), setup.catalogue());
  ASSERT_EQ(reach.part.size(), 3U);
  EXPECT_FALSE(reach.part[0].is_true);
  EXPECT_TRUE(reach.part[0].is_false);
  EXPECT_TRUE(reach.part[1].is_true && reach.part[2].is_true);
}

// A and (B or C).
const std::string kFormula =
    AllOf({"enrolled {}",
           "any_of { condition { willing {} } condition { total_disagrees {} } "
           "}"});

TEST(Coverage, ShowsWhatWouldChangeTheAnswer) {
  const auto setup = SetUpRule(kPhq9, kFormula);
  const v1::Condition& condition = ExampleSite(setup).rules.rule(0).condition();
  const Truth t = v1::TRUTH_TRUE;
  const Truth f = v1::TRUTH_FALSE;
  const Truth u = v1::TRUTH_UNKNOWN;
  const auto shows = [&](const std::vector<Truth>& singles) {
    std::vector<Shown> shown(3);
    AddShown(condition, singles, shown);
    std::string letters;
    for (const Shown& each : shown) {
      letters += each.when_true ? 'T' : each.when_false ? 'F' : '-';
    }
    return letters;
  };
  EXPECT_EQ(shows({t, t, f}), "TT-");
  EXPECT_EQ(shows({t, t, t}), "T--");
  EXPECT_EQ(shows({t, f, f}), "-FF");
  EXPECT_EQ(shows({f, t, f}), "F--");
  EXPECT_EQ(shows({f, f, f}), "---");
  // Unknown is an answer too: raised for review.
  EXPECT_EQ(shows({t, u, f}), "T-F");
  EXPECT_EQ(shows({f, u, f}), "F--");
}

TEST(Coverage, SaysWhatAnExampleNeeds) {
  const auto setup = SetUpRule(kPhq9, kFormula);
  const Site& site = ExampleSite(setup);
  const v1::Rule& rule = site.rules.rule(0);
  const RuleTerms terms(rule, setup.catalogue(), site.settings);
  EXPECT_EQ(NeededInWords(rule.condition(), 1, v1::TRUTH_FALSE, terms),
            "the participant is enrolled, and the participant does not want "
            "the programme, and no reported total disagrees with the answers");
}

TEST(Formula, FoldsByThreeValuedLogic) {
  const auto setup = SetUpRule(kPhq9, kFormula);
  const v1::Condition& condition = ExampleSite(setup).rules.rule(0).condition();
  std::vector<Truth> parts;
  EXPECT_EQ(Fold(condition,
                 {v1::TRUTH_TRUE, v1::TRUTH_UNKNOWN, v1::TRUTH_FALSE}, &parts),
            v1::TRUTH_UNKNOWN);
  EXPECT_THAT(parts,
              ElementsAre(v1::TRUTH_UNKNOWN, v1::TRUTH_TRUE, v1::TRUTH_UNKNOWN,
                          v1::TRUTH_UNKNOWN, v1::TRUTH_FALSE));
}

// PHQ-9: totals 0 to 27, each with 0 to 3 points on the self-harm item where
// the other eight (24 at most) allow it: 25 totals for each of the four.
TEST(CompleteForms, GiveEveryTotalWithEachSelfHarmAnswer) {
  const auto setup = SetUpRule(kPhq9, kHigh);
  const Scale& phq9 = *setup.catalogue().Find("phq-9");
  const std::vector<FormOfTotal> forms = CompleteForms(phq9);
  EXPECT_EQ(forms.size(), 100U);
  for (const FormOfTotal& each : forms) {
    const auto score = ScoreForm(phq9, each.form);
    ASSERT_TRUE(score.ok());
    EXPECT_EQ(score->total, (Interval{each.total, each.total}));
    EXPECT_EQ(score->answered_items, 9);
  }
  // WHO-5: 0 to 100 in steps of 4.
  EXPECT_EQ(CompleteForms(*setup.catalogue().Find("who-5")).size(), 26U);
}

}  // namespace
}  // namespace turnstone

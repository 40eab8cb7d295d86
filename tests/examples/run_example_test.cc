// What a rule answers about an example. Weeks run from Monday to Friday, day 0
// is a Monday (rule.proto); the rest is counted on a calendar by hand.
#include "rules/examples/run_example.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/engine/decide.h"
#include "rules/examples/ask_rule.h"
#include "rules/examples/boundary.h"
#include "rules/examples/example_setup.h"
#include "tests/examples/tried_rules.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

v1::ExampleAnswer AnswerTo(const std::string& example, const Setup& setup) {
  const auto read = ReadExample(ExampleOf(example), setup, 0);
  if (!std::holds_alternative<ExampleCase>(read)) {
    return v1::EXAMPLE_ANSWER_UNSPECIFIED;
  }
  return RunExample(std::get<ExampleCase>(read), setup, 0).answer;
}

TEST(RunExample, TrueRaisesUnknownIsForReviewFalseIsSilent) {
  const auto setup = SetUpRule(
      kPhq9, "score { instrument: \"phq-9\" at_least { value: 20 } }");
  const auto form = [](const std::string& points) {
    return "fact { day: 0 form { instrument: \"phq-9\" points: \"" + points +
           "\" } }";
  };
  EXPECT_EQ(AnswerTo(form("3 3 3 3 3 3 2 0 0"), setup), v1::RAISES);
  EXPECT_EQ(AnswerTo(form("3 3 3 3 3 2 2 - 0"), setup), v1::RAISES_FOR_REVIEW);
  EXPECT_EQ(AnswerTo(form("3 3 3 3 3 2 2 0 0"), setup), v1::DOES_NOT_RAISE);
}

// Asked at 17:00 on the first working day after the form; if the wish is not
// known then, again on the second after that.
TEST(RunExample, AsksAgainWhereTheRuleWaits) {
  const auto setup = SetUpRule(
      std::string(kPhq9) + " after_working_days { value: 1 }",
      "all_of { condition { willing {} } condition { not { enrolled {} } } }",
      "on_unknown { wait_then_raise { working_days { value: 2 } } }");
  // A Friday: asked on Monday, and again on Wednesday, day 9.
  const std::string form =
      "fact { day: 4 form { instrument: \"phq-9\" total: 12 } }";
  EXPECT_EQ(AnswerTo(form, setup), v1::RAISES_FOR_REVIEW);
  EXPECT_EQ(AnswerTo(form + " fact { day: 9 enrolled {} }", setup),
            v1::DOES_NOT_RAISE);
  EXPECT_EQ(AnswerTo(form + " fact { day: 10 enrolled {} }", setup),
            v1::RAISES_FOR_REVIEW);
  // Known at the first asking: that answer counts.
  EXPECT_EQ(AnswerTo("fact { day: 4 form { instrument: \"phq-9\" total: 12 "
                     "willing: true } } fact { day: 9 enrolled {} }",
                     setup),
            v1::RAISES);
}

TEST(RunExample, EightVisitsArePlannedUnlessTheExampleSaysOtherwise) {
  const auto setup = SetUpRule("visit_outcome {}", "attended_visits {}");
  std::string visits;
  for (int i = 1; i <= 7; ++i) {
    visits += "fact { day: " + std::to_string(7 * i) + " visit { visit: \"v" +
              std::to_string(i) + "\" outcome: VISIT_OUTCOME_KIND_ATTENDED } }";
  }
  EXPECT_EQ(AnswerTo("fact { day: 0 enrolled {} }" + visits, setup),
            v1::DOES_NOT_RAISE);
  EXPECT_EQ(AnswerTo("fact { day: 0 enrolled { planned_visits: 7 } }" + visits,
                     setup),
            v1::RAISES);
}

// AskRule is to say what the service would raise: Decide's answers, over every
// example we ship.
TEST(RunExample, AgreesWithTheEngineOnEveryExampleWeShip) {
  const v1::Configuration shipped = ShippedConfiguration();
  std::vector<const v1::Instrument*> instruments;
  for (const v1::Instrument& each : shipped.instrument()) {
    instruments.push_back(&each);
  }
  int examples = 0;
  for (const v1::RuleSet& rules : shipped.rule_set()) {
    const auto setup = SetUpExamples(rules, instruments);
    const Site& site = ExampleSite(setup);
    for (int rule = 0; rule < rules.rule_size(); ++rule) {
      for (const v1::Example& example : rules.rule(rule).example()) {
        const auto read = ReadExample(example, setup, rule);
        const auto& tried = std::get<ExampleCase>(read);
        Agenda agenda;
        agenda.Refresh(tried.history, absl::InfinitePast(), std::nullopt, site);
        v1::ExampleAnswer raised = v1::DOES_NOT_RAISE;
        for (const Answer& answer :
             Decide(site, tried.history, agenda,
                    {absl::InfinitePast(), absl::InfinitePast(),
                     absl::FromUnixSeconds(4102444800)})) {  // 2100
          if (answer.raise && answer.fact == tried.asked &&
              answer.rule->id() == rules.rule(rule).id()) {
            raised = LeadsTo(answer.truth);
          }
        }
        EXPECT_EQ(RunExample(tried, setup, rule).answer, raised)
            << rules.rule(rule).id() << ": " << example.because();
        ++examples;
      }
    }
  }
  EXPECT_GT(examples, 38 * 4);
}

TEST(Boundary, IsWhereOneStepGivesAnotherAnswer) {
  const auto setup = SetUpRule(
      kPhq9, "score { instrument: \"phq-9\" at_least { value: 20 } }");
  const auto nearest = [&](const std::string& points) {
    const auto read = ReadExample(
        ExampleOf("fact { day: 0 form { instrument: \"phq-9\" points: \"" +
                  points + "\" } }"),
        setup, 0);
    const auto step = NearestOtherAnswer(std::get<ExampleCase>(read), setup, 0);
    return step ? step->differs : "";
  };
  EXPECT_EQ(nearest("3 3 3 3 2 2 2 2 0"),
            "the PHQ-9 of 4 Jan 2027 had 2 points on \"Little interest\" "
            "instead of 3");
  // 18: no answer a point off makes 20, but 18 to 21 could be.
  EXPECT_EQ(nearest("3 3 2 2 2 2 2 2 0"),
            "the PHQ-9 of 4 Jan 2027 had no answer to \"Better off dead or "
            "hurting self\"");
  // 16: at most 19, whichever answer is missing.
  EXPECT_EQ(nearest("2 2 2 2 2 2 2 2 0"), "");
}

}  // namespace
}  // namespace turnstone

// From an example to events. Expectations: the comments of rule.proto; codes of
// the PHQ-9 as in rules/instruments/phq-9.textproto (LOINC LL358-3, LL359-1).
#include "rules/examples/example_events.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/examples/example_setup.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/score.h"
#include "tests/examples/tried_rules.h"
#include "tests/support/events.h"

namespace turnstone {
namespace {

using ::testing::HasSubstr;

Setup OnForms() {
  return SetUpRule(kPhq9,
                   "score { instrument: \"phq-9\" at_least { value: 20 "
                   "} }");
}

v1::ScreeningResult FormOf(const std::string& form) {
  const auto events =
      EventsOf("fact { day: 0 form { " + form + " } }", OnForms());
  return events.empty() ? v1::ScreeningResult() : events[0].screening_result();
}

// "code=answer" of each item, "code" where it has none.
std::vector<std::string> Answers(const v1::ScreeningResult& form) {
  std::vector<std::string> answers;
  for (const v1::ItemAnswer& each : form.answers()) {
    answers.push_back(each.question() +
                      (each.has_answer() ? "=" + each.answer() : ""));
  }
  return answers;
}

// Day 1 is a Tuesday.
TEST(ExampleEvents, FactsOfADayComeAMinuteApartFromTenOnward) {
  const auto events = EventsOf(
      "fact { day: 1 enrolled {} } fact { day: 1 planned { visit: \"visit-1\" "
      "start_day: 3 } } fact { day: 2 form { instrument: \"phq-9\" total: 4 } "
      "}",
      OnForms());
  ASSERT_EQ(events.size(), 3U);
  EXPECT_EQ(FromProto(events[0].effective_time()), At("2027-01-05T10:00:00Z"));
  EXPECT_EQ(FromProto(events[1].effective_time()), At("2027-01-05T10:01:00Z"));
  EXPECT_EQ(FromProto(events[1].visit_planned().planned_start()),
            At("2027-01-07T10:00:00Z"));
  EXPECT_EQ(FromProto(events[2].effective_time()), At("2027-01-06T10:00:00Z"));
  EXPECT_EQ(events[2].event_id(), "fact-3");
  EXPECT_EQ(events[2].source(), events[0].source());
}

TEST(ExampleEvents, PointsAreLookedUpAmongTheItemsAnswers) {
  const v1::ScreeningResult form = FormOf(
      "instrument: \"phq-9\" points: \"3 - 1\" total: 12 willing: "
      "false");
  EXPECT_THAT(Answers(form),
              ::testing::ElementsAre("44250-9=LA6571-9", "44259-0=LA6569-3"));
  EXPECT_EQ(form.reported_total(), 12);
  EXPECT_FALSE(form.willing());
  EXPECT_TRUE(form.has_willing());
}

// The tenth item has no points: its answers are counted from 0, in printed
// order; "very difficult" is the third.
TEST(ExampleEvents, AnItemThatIsNotScoredCountsItsAnswers) {
  EXPECT_THAT(
      Answers(FormOf("instrument: \"phq-9\" points: \"- - - - - - - - 0 2\"")),
      ::testing::ElementsAre("44260-8=LA6568-5", "69722-7=LA6575-0"));
}

// Of the GDS-15 "no" counts on some items and "yes" on the others (Sheikh &
// Yesavage 1986), but the answers are printed in one order.
TEST(ExampleEvents, PointsAreThoseThatCount) {
  const auto setup = SetUpRule("screening { instrument: \"gds-15\" }",
                               "item_unanswered { question: \"none\" }");
  const Scale& gds = *setup.catalogue().Find("gds-15");
  for (const std::string points : {"0", "1"}) {
    std::string all;
    for (int i = 0; i < 15; ++i) all += points + " ";
    const auto events =
        EventsOf("fact { day: 0 form { instrument: \"gds-15\" points: \"" +
                     all + "\" } }",
                 setup);
    ASSERT_EQ(events.size(), 1U);
    const auto score = ScoreForm(gds, events[0].screening_result());
    ASSERT_TRUE(score.ok());
    EXPECT_EQ(score->total.low, points == "1" ? 15 : 0);
    EXPECT_EQ(score->answered_items, 15);
  }
}

TEST(ExampleEvents, AFormWithoutAnAnswerWasDeclined) {
  const v1::ScreeningResult form =
      FormOf("instrument: \"phq-9\" points: \"-\"");
  ASSERT_EQ(form.answers_size(), 10);
  EXPECT_EQ(form.answers(9).absent(), v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  EXPECT_EQ(FormOf("instrument: \"phq-9\" total: 3").answers_size(), 0);
}

std::string AskedAbout(const std::string& example, const Setup& setup) {
  const auto read = ReadExample(ExampleOf(example), setup, 0);
  const auto* found = std::get_if<ExampleCase>(&read);
  return found == nullptr ? "" : found->asked.event_id;
}

TEST(ExampleEvents, TheLastFactOfItsKindIsAskedAbout) {
  const std::string facts =
      "fact { day: 0 form { instrument: \"phq-9\" total: 4 } } fact { day: 7 "
      "form { instrument: \"phq-9\" total: 5 } asked: ";
  const std::string last =
      " } fact { day: 8 form { instrument: \"gad-7\" total: 5 } }";
  EXPECT_EQ(AskedAbout(facts + "false" + last, OnForms()), "fact-2");
  EXPECT_EQ(AskedAbout("fact { day: 0 form { instrument: \"phq-9\" total: 4 } "
                       "asked: true } fact { day: 1 form { instrument: "
                       "\"phq-9\" total: 5 } }",
                       OnForms()),
            "fact-1");
}

struct Wrong {
  std::string example;
  std::string said;
  int fact;  // -1: the whole
};

class UnreadableExample : public ::testing::TestWithParam<Wrong> {};

TEST_P(UnreadableExample, IsRefusedWithAdvice) {
  const auto read = ReadExample(ExampleOf(GetParam().example), OnForms(), 0);
  const auto* error = std::get_if<ExampleError>(&read);
  ASSERT_NE(error, nullptr);
  EXPECT_THAT(error->wrong + "; " + error->write, HasSubstr(GetParam().said));
  EXPECT_EQ(error->fact.value_or(-1), GetParam().fact);
}

std::string PhqFact(const std::string& form) {
  return "fact { day: 0 form { instrument: \"phq-9\" " + form + " } }";
}

INSTANTIATE_TEST_SUITE_P(
    Each, UnreadableExample,
    ::testing::Values(
        Wrong{"", "there is no fact; write fact { ... }, 1 to 60", -1},
        Wrong{"fact { enrolled {} }", "day is missing", 0},
        Wrong{"fact { day: 3651 enrolled {} }", "0 to 3650", 0},
        Wrong{"fact { day: 2 enrolled {} } " + PhqFact("total: 1"),
              "earlier than that of the fact before", 1},
        Wrong{"fact { day: 0 }", "does not say what happened", 0},
        Wrong{"fact { day: 0 form { instrument: \"phq9\" } }",
              "no instrument \"phq9\"; write one of audit-c, ", 0},
        Wrong{PhqFact(""), "the form says nothing", 0},
        Wrong{PhqFact("points: \"4\""),
              "\"4\" is no answer to item 1 of phq-9, \"Little interest\"; "
              "write one of 0, 1, 2, 3, or -",
              0},
        Wrong{PhqFact("points: \"0 x\""), "\"x\" is no answer to item 2", 0},
        Wrong{PhqFact("points: \"0 0 0 0 0 0 0 0 0 0 0\""),
              "points for 11 items, but phq-9 has 10", 0},
        Wrong{PhqFact("total: 28"), "write one from 0 to 27", 0},
        Wrong{"fact { day: 0 form { instrument: \"who-5\" total: 3 } }",
              "in steps of 4", 0},
        Wrong{PhqFact("result: \"x\""), "has items, not results", 0},
        Wrong{"fact { day: 0 form { instrument: \"cognitive-screen\" result: "
              "\"x\" } }",
              "has no result \"x\"; write result: with one of ", 0},
        Wrong{"fact { day: 0 visit { visit: \"v\" } }", "outcome is missing",
              0},
        Wrong{"fact { day: 0 planned { visit: \"v\" } }",
              "start_day is missing or out of range", 0},
        Wrong{"fact { day: 0 practice { confidence: 101 } }", "0 to 100", 0},
        Wrong{"fact { day: 0 enrolled { planned_visits: 53 } }", "1 to 52", 0},
        Wrong{"fact { day: 0 discharged {} }", "reason is missing", 0},
        Wrong{"fact { day: 0 enrolled {} }", "not asked about any of these",
              -1},
        Wrong{"fact { day: 0 enrolled {} asked: true } " + PhqFact("total: 1"),
              "not asked about facts of this kind", 0},
        Wrong{"fact { day: 0 form { instrument: \"phq-9\" total: 1 } asked: "
              "true } fact { day: 0 form { instrument: \"phq-9\" total: 1 } "
              "asked: true }",
              "two facts are asked about", 1}));

}  // namespace
}  // namespace turnstone

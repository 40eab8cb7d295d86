// The scenarios' own grammar. Source: GRAMMAR.md.
#include "tests/scenarios/script.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/measure/proto_time.h"
#include "tests/scenarios/sentences.h"
#include "tests/scenarios/work_sentences.h"
#include "tests/support/events.h"

namespace turnstone::scenarios {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(ScriptTest, KeepsStepsWithWhatIsExpected) {
  const auto steps = ParseScript(
      "# What it is.\n\nadvance 1h\n  show board\n| A-1\n|   next\n|\n# end\n");
  ASSERT_TRUE(steps.ok()) << steps.status();
  ASSERT_EQ(steps->size(), 2U);
  EXPECT_EQ((*steps)[0].text, "advance 1h");
  EXPECT_EQ((*steps)[0].line, 3);
  EXPECT_THAT((*steps)[0].expected, IsEmpty());
  EXPECT_EQ((*steps)[1].text, "show board");
  EXPECT_THAT((*steps)[1].expected, ElementsAre("A-1", "  next", ""));
}

TEST(ScriptTest, RefusesWhatTellsNothing) {
  const auto why = [](const std::string& text) {
    return std::string(ParseScript(text).status().message());
  };
  EXPECT_THAT(why("advance 1h\n"), HasSubstr("line 1: begin with a comment"));
  EXPECT_THAT(why("# x\n| A-1\n"), HasSubstr("line 2: an answer"));
  EXPECT_THAT(why("# x\n"), HasSubstr("nothing happens"));
}

v1::Event Told(const std::string& sentence) {
  const auto event = EventOf(sentence, "e-1", At("2027-01-04T10:00:00Z"),
                             absl::UTCTimeZone(), std::nullopt);
  EXPECT_TRUE(event.ok()) << event.status();
  return event.value_or(v1::Event());
}

TEST(SentenceTest, TellsOfForms) {
  const absl::Time when = At("2027-01-04T10:00:00Z");
  EXPECT_EQ(Told("phq-9 14, self-harm item 1").SerializeAsString(),
            Phq9Total("e-1", when, 14, 1).SerializeAsString());
  EXPECT_EQ(
      Told("phq-9 3, self-harm item unanswered").SerializeAsString(),
      Phq9("e-1", when, {3, 0, 0, 0, 0, 0, 0, 0, {}}).SerializeAsString());
  EXPECT_EQ(
      Told("phq-9 3, another item unanswered").SerializeAsString(),
      Phq9("e-1", when, {3, 0, 0, 0, 0, 0, 0, {}, 0}).SerializeAsString());
  EXPECT_FALSE(Told("phq-9 12, not willing").screening_result().willing());
  EXPECT_TRUE(Told("phq-9 12, willing").screening_result().willing());
}

TEST(SentenceTest, TellsOfVisitsAndTheRest) {
  EXPECT_EQ(Told("visit-2 refused at the door").visit_outcome().outcome(),
            v1::VISIT_OUTCOME_KIND_REFUSED_AT_DOOR);
  EXPECT_EQ(FromProto(Told("visit-2 planned for 2027-01-05 09:30")
                          .visit_planned()
                          .planned_start()),
            At("2027-01-05T09:30:00Z"));
  EXPECT_EQ(Told("enrolled with clinician r.sorrel").enrolment().clinician(),
            "r.sorrel");
  EXPECT_EQ(Told("practice confidence 40").practice_report().confidence(), 40);
}

TEST(ScriptTest, RefusesALineWithoutEnd) {
  const std::string begin = "# Why.\n";
  EXPECT_TRUE(ParseScript(begin + std::string(400, 'x')).ok());
  EXPECT_EQ(ParseScript(begin + std::string(401, 'x')).status().message(),
            "line 2: longer than 400 characters; say it in fewer");
}

TEST(SentenceTest, SaysWhatItDoesNotUnderstand) {
  for (const char* sentence :
       {"phq-9 28", "phq-9 99999999999", "practice confidence 99999999999",
        "phq-9 5, maybe", "visit-1 went well", "enroled",
        "the last one never happened"}) {
    EXPECT_FALSE(EventOf(sentence, "e-1", At("2027-01-04T10:00:00Z"),
                         absl::UTCTimeZone(), std::nullopt)
                     .ok())
        << sentence;
  }
}

TEST(SentenceTest, MendsTheLastOne) {
  v1::Event last = Told("phq-9 14");
  last.set_event_id("e-0");
  const auto mended =
      EventOf("the last one was phq-9 12", "e-1", At("2027-01-05T10:00:00Z"),
              absl::UTCTimeZone(), last);
  ASSERT_TRUE(mended.ok()) << mended.status();
  EXPECT_EQ(mended->correction().corrected_event_id(), "e-0");
  EXPECT_EQ(mended->correction().replacement().effective_time().seconds(),
            last.effective_time().seconds());
}

TEST(WorkSentenceTest, TellsWhoDoesWhat) {
  const auto hold = WorkOf(
      "hold A-1 until 2027-01-06 09:00 reason \"waits\" as r.sorrel clinician",
      absl::UTCTimeZone());
  ASSERT_TRUE(hold.has_value());
  EXPECT_EQ(hold->by.name(), "r.sorrel");
  EXPECT_EQ(hold->by.role(), "clinician");
  EXPECT_EQ(hold->request.alert_id(), "A-1");
  EXPECT_EQ(hold->request.hold().reason(), "waits");
  EXPECT_EQ(FromProto(hold->request.hold().until()),
            At("2027-01-06T09:00:00Z"));
  EXPECT_FALSE(WorkOf("dance A-1 as r.sorrel clinician", absl::UTCTimeZone()));
  EXPECT_FALSE(WorkOf("receive A-1", absl::UTCTimeZone()));
}

}  // namespace
}  // namespace turnstone::scenarios

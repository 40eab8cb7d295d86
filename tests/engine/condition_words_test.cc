// What a programme lead reads of a condition, and of the same denied. Every
// sentence was written by hand from rule.proto's own words and compared whole.
#include "rules/engine/condition_words.h"

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <vector>

#include "tests/engine/rule_text.h"

namespace turnstone {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::TextFormat;

struct Row {
  std::string condition;
  std::string holds;
  std::string fails;  // the same within not { ... }
  std::string when = kOnPhq9;
};

void Expect(const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    EXPECT_EQ(Raises(row.condition, row.when), row.holds);
    EXPECT_EQ(Raises("not { " + row.condition + " }", row.when), row.fails);
    EXPECT_EQ(Raises("not { not { " + row.condition + " } }", row.when),
              row.holds);
  }
}

TEST(ConditionWords, Totals) {
  Expect({
      {R"(score { instrument: "phq-9" at_least { value: 20 } })",
       "the PHQ-9 total is 20 or more", "the PHQ-9 total is less than 20"},
      {R"(score { instrument: "phq-9" at_most { value: 4 } })",
       "the PHQ-9 total is 4 or less", "the PHQ-9 total is more than 4"},
      {R"(score { instrument: "phq-9" at_least { value: 10 }
                  at_most { value: 19 } })",
       "the PHQ-9 total is 10 to 19", "the PHQ-9 total is not 10 to 19"},
      {R"(score { instrument: "epds" at_least { value: 13 } })",
       "the latest EPDS total is 13 or more",
       "the latest EPDS total is less than 13"},
      {R"(score { instrument: "phq-9" at_least { value: 10 }
                  in_a_row { value: 2 } })",
       "each of the latest 2 PHQ-9 totals is 10 or more",
       "not each of the latest 2 PHQ-9 totals is 10 or more (or there are "
       "fewer)"},
  });
}

TEST(ConditionWords, ItemsAndWhatIsSaidBesideThem) {
  Expect({
      {"item { self_harm: true at_least { value: 1 } }",
       "the self-harm item scores 1 or more",
       "the self-harm item scores less than 1"},
      {R"(item { question: "q-1" at_least { value: 2 } })",
       "the PHQ-9 item \"Sleep\" scores 2 or more",
       "the PHQ-9 item \"Sleep\" scores less than 2"},
      {"item_unanswered { self_harm: true }",
       "the self-harm item was not answered",
       "the self-harm item was answered"},
      {R"(item_unanswered { question: "q-1" })",
       "the PHQ-9 item \"Sleep\" was not answered",
       "the PHQ-9 item \"Sleep\" was answered"},
      {"total_disagrees {}", "the reported total cannot come from the answers",
       "no reported total disagrees with the answers"},
      {"willing {}", "the participant wants the programme",
       "the participant does not want the programme"},
      {"wish_recorded {}",
       "it is recorded whether the participant wants the programme",
       "it is not recorded whether the participant wants the programme"},
      {R"(result { code: "pos" code: "other" })",
       "the result is \"positive\" or \"other\"",
       "the result is not \"positive\" or \"other\"",
       R"(screening { instrument: "memory" })"},
  });
}

TEST(ConditionWords, ChangeAgainstAnEarlierForm) {
  Expect({
      {R"(worse_by { instrument: "phq-9" than: COMPARED_WITH_BASELINE
                     at_least { value: 6 } })",
       "the PHQ-9 total is worse than at the baseline by 6 points or more",
       "the PHQ-9 total is not worse than at the baseline by 6 points or more "
       "(or there is no earlier one)"},
      {R"(better_by { instrument: "phq-9" than: COMPARED_WITH_PREVIOUS
                      at_least_percent { value: 50 } })",
       "the PHQ-9 total is better than the one before by 50 % or more",
       "the PHQ-9 total is not better than the one before by 50 % or more (or "
       "there is no earlier one)"},
      {R"(worse_by { instrument: "phq-9" than: COMPARED_WITH_BEST
                     at_least { value: 1 } in_a_row { value: 3 } })",
       "each of the latest 3 PHQ-9 totals is worse than the best one before by "
       "1 point or more",
       "not each of the latest 3 PHQ-9 totals is worse than the best one "
       "before by 1 point or more (or there are fewer)"},
      {R"(worse_in_a_row { instrument: "phq-9" times { value: 2 } })",
       "the PHQ-9 total has become worse 2 times in a row",
       "the PHQ-9 total has not become worse 2 times in a row"},
  });
}

TEST(ConditionWords, TheWholeCourse) {
  Expect({
      {R"(trend { instrument: "phq-9" direction: TREND_DIRECTION_WORSENING
                  p_at_most { value: 50 } })",
       "the PHQ-9 totals from the baseline on get worse more steadily than by "
       "chance (Mann-Kendall, p at most 0.05)",
       "the PHQ-9 totals from the baseline on do not get worse more steadily "
       "than by chance (Mann-Kendall, p at most 0.05)"},
      {R"(trend { instrument: "phq-9" direction: TREND_DIRECTION_IMPROVING
                  p_at_most { setting: "share" } })",
       "the PHQ-9 totals from the baseline on get better more steadily than by "
       "chance (Mann-Kendall, p at most 0.05 (share, site, phq-9 preset own))",
       "the PHQ-9 totals from the baseline on do not get better more steadily "
       "than by chance (Mann-Kendall, p at most 0.05 (share, site, phq-9 "
       "preset own))"},
      {R"(outcome { instrument: "phq-9" is: COURSE_OUTCOME_WORSE
                    is: COURSE_OUTCOME_NO_CHANGE remission_at_most { value: 4 }
                    response_percent { value: 50 }
                    reliable_change { setting: "reliable" } })",
       "the PHQ-9 course since the baseline is \"reliably worse\" or \"no "
       "reliable change\" [remission: 4 or less; response: 50 % lower or more; "
       "reliable change: 6 points (reliable, phq-9 preset delgadillo-2014) or "
       "more]",
       "the PHQ-9 course since the baseline is not \"reliably worse\" or \"no "
       "reliable change\" [remission: 4 or less; response: 50 % lower or more; "
       "reliable change: 6 points (reliable, phq-9 preset delgadillo-2014) or "
       "more] (or there is no earlier one)"},
      {R"(screenings { instrument: "phq-9" at_least { value: 3 } })",
       "there are 3 PHQ-9 screenings or more so far",
       "there are fewer than 3 PHQ-9 screenings so far"},
  });
}

TEST(ConditionWords, Programme) {
  Expect({
      {"enrolled {}", "the participant is enrolled",
       "the participant is not enrolled"},
      {R"(discharged_as { reason: DISCHARGE_REASON_LOST_CONTACT
                          reason: DISCHARGE_REASON_DIED })",
       "the participant was discharged as \"lost contact\" or \"died\"",
       "the participant was not discharged as \"lost contact\" or \"died\""},
      {"attended_visits {}", "the participant attended all planned visits",
       "the participant has not attended all planned visits"},
      {"attended_visits { at_least { value: 4 } }",
       "the participant attended 4 visits or more",
       "the participant attended fewer than 4 visits"},
      {"missed_in_a_row { at_least { value: 2 } }",
       "the participant missed 2 visits or more in a row",
       "the participant missed fewer than 2 visits in a row",
       "visit_outcome {}"},
      {"visit_accounted_for {}",
       "the planned visit is accounted for (outcome, move or discharge)",
       "the planned visit has no outcome and was not moved, nor was the "
       "participant discharged",
       "visit_planned {}"},
      {"confidence_below { percent { value: 90 } }",
       "the confidence in doing the practice is below 90 %",
       "the confidence in doing the practice is 90 % or more",
       "practice_report {}"},
  });
}

TEST(ConditionWords, OtherDays) {
  Expect({
      {"self_harm_earlier { within_days { value: 365 } }",
       "a self-harm item was positive within the last 365 days",
       "no self-harm item was positive within the last 365 days"},
      {"contact_since {}", "there was a contact after that contact",
       "there was no contact after that contact", "contact {}"},
      {R"(screened_within { instrument: "phq-9" days { value: 14 } })",
       "another PHQ-9 was done from 14 days before the screening on",
       "no other PHQ-9 was done from 14 days before the screening on"},
      {R"(screened_within { instrument: "epds" days { value: 0 } })",
       "an EPDS was done from the day of the screening on",
       "no EPDS was done from the day of the screening on"},
      {R"(screened_within { instrument: "phq-9" since: true })",
       "another PHQ-9 was done since the screening",
       "no other PHQ-9 was done since the screening"},
      {R"(screened_within { instrument: "phq-9" instrument: "epds"
                            days { value: 1 } })",
       "a PHQ-9 or EPDS was done from 1 day before the discharge on",
       "no PHQ-9 or EPDS was done from 1 day before the discharge on",
       "discharge {}"},
      {R"(screened_within { instrument: "phq-9" days { value: 14 }
                            before_asking: true })",
       "a PHQ-9 was done within the last 14 days",
       "no PHQ-9 was done within the last 14 days", "discharge {}"},
  });
}

TEST(ConditionWords, WhoseNumberItIs) {
  EXPECT_EQ(Raises(R"(score { instrument: "phq-9"
                              at_least { setting: "lower" }
                              at_most { setting: "above-range" } })"),
            "the PHQ-9 total is 10 (lower, site) to 20 (above-range)");
}

TEST(ConditionWords, PartsTogether) {
  const std::string a = "the participant wants the programme";
  const std::string b = "the participant is not enrolled";
  const std::string c = "the reported total cannot come from the answers";
  EXPECT_EQ(Raises(All(kA)), a);
  EXPECT_EQ(Raises("not { " + Any(kB) + "}"), "the participant is enrolled");
  Expect({
      {All(std::string(kA) + kB), a + ", and " + b,
       "not all of: (" + a + "; " + b + ")"},
      {Any(std::string(kA) + kB + kC),
       "either " + a + ", or " + b + ", or " + c,
       "none of: (" + a + "; " + b + "; " + c + ")"},
      {All(kC + Part(Any(std::string(kA) + kB))),
       c + ", and (either " + a + ", or " + b + ")",
       "not all of: (" + c + "; (either " + a + ", or " + b + "))"},
      {Any(Part(All(std::string(kA) + kB)) + kC),
       "either (" + a + ", and " + b + "), or " + c,
       "none of: ((" + a + ", and " + b + "); " + c + ")"},
      {All(Part("not { " + Any(std::string(kA) + kB) + "}") + kC),
       "none of: (" + a + "; " + b + "), and " + c,
       "not all of: (none of: (" + a + "; " + b + "); " + c + ")"},
  });
}

TEST(ConditionWords, TheSameThingAgainIsIt) {
  const std::string answered =
      Part("not { item_unanswered { self_harm: true } }");
  const std::string item =
      Part("item { self_harm: true at_least { value: 1 } }");
  EXPECT_EQ(Raises(All(answered + item)),
            "the self-harm item was answered, and it scores 1 or more");
  EXPECT_EQ(Raises(All(answered + kA + item)),
            "the self-harm item was answered, and the participant wants the "
            "programme, and the self-harm item scores 1 or more");
}

// Every kind the contract has, also those that come after this was written.
TEST(ConditionWords, NoKindIsWithoutItsOwn) {
  const auto& kinds = *v1::Condition::descriptor()->FindOneofByName("kind");
  const std::string none = "it cannot be told";
  std::set<std::string> holds = {"", none};
  std::set<std::string> fails = {"", none};
  for (int i = 0; i < kinds.field_count(); ++i) {
    const auto& kind = *kinds.field(i);
    v1::Condition condition;
    google::protobuf::Message& said =
        *condition.GetReflection()->MutableMessage(&condition, &kind);
    if (kind.message_type() == v1::Conditions::descriptor()) {
      ASSERT_TRUE(TextFormat::ParseFromString(std::string(kA) + kB, &said));
    }
    if (kind.message_type() == v1::Condition::descriptor()) {
      ASSERT_TRUE(TextFormat::ParseFromString("willing {}", &said));
    }
    const std::string text = condition.ShortDebugString();
    const std::string yes = Raises(text);
    const std::string no = Raises("not { " + text + " }");
    EXPECT_TRUE(holds.insert(yes).second) << text << ": " << yes;
    EXPECT_TRUE(fails.insert(no).second) << text << ": " << no;
    EXPECT_NE(yes, no) << text;
  }
}

// Every value to try in a field, so that each is told from the others.
std::vector<std::string> Samples(const FieldDescriptor& field) {
  if (field.message_type() == v1::Number::descriptor()) {
    return {"{ value: 7 }", "{ value: 8 }", "{ setting: \"above-range\" }"};
  }
  if (field.type() == FieldDescriptor::TYPE_BOOL) return {": true"};
  if (field.type() == FieldDescriptor::TYPE_STRING) {
    return {": \"phq-9\"", ": \"epds\""};
  }
  std::vector<std::string> values;
  for (int i = 1; i < field.enum_type()->value_count(); ++i) {
    values.push_back(": " + field.enum_type()->value(i)->name());
  }
  return values;
}

// Every field a condition has, also those that come after this was written.
TEST(ConditionWords, NoFieldGoesUnsaid) {
  const auto& kinds = *v1::Condition::descriptor()->FindOneofByName("kind");
  for (int i = 0; i < kinds.field_count(); ++i) {
    const auto& kind = *kinds.field(i);
    if (kind.message_type() == v1::Conditions::descriptor()) continue;
    if (kind.message_type() == v1::Condition::descriptor()) continue;
    for (int j = 0; j < kind.message_type()->field_count(); ++j) {
      const FieldDescriptor& field = *kind.message_type()->field(j);
      std::set<std::string> seen = {Raises(kind.name() + " {}")};
      for (const std::string& sample : Samples(field)) {
        const std::string text =
            kind.name() + " { " + field.name() + sample + " }";
        EXPECT_TRUE(seen.insert(Raises(text)).second)
            << text << ": " << Raises(text);
      }
    }
  }
}

}  // namespace
}  // namespace turnstone

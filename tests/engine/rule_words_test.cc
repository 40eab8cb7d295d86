// What a programme lead reads of a rule. Every sentence was written by hand
// from rule.proto's own words and compared whole.
#include "rules/engine/rule_words.h"

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "tests/engine/rule_text.h"

namespace turnstone {
namespace {

std::string Unknown(const std::string& fields) {
  const std::string words =
      Words(Parse<v1::Rule>(std::string("when { ") + kOnPhq9 + "} " + fields))
          .raises_when;
  const size_t from = words.find("; ");
  return from == std::string::npos ? "" : words.substr(from);
}

TEST(RuleWords, WhatIfItCannotBeTold) {
  const std::string willing = "condition { willing {} } ";
  EXPECT_EQ(Unknown(willing + "priority: PRIORITY_STAT"),
            "; if that cannot be told, raised for review at priority stat");
  EXPECT_EQ(Unknown(willing + "priority: PRIORITY_STAT "
                              "unknown_priority: PRIORITY_URGENT "
                              "on_unknown { raise_for_review {} }"),
            "; if that cannot be told, raised for review at priority urgent");
  EXPECT_EQ(
      Unknown(willing + "priority: PRIORITY_ROUTINE on_unknown { "
                        "wait_then_raise { working_days { value: 2 } } }"),
      "; if that cannot be told, asked again after 2 working days and "
      "then raised for review at priority routine");
}

// Which conditions are never unknown: rule.proto, at each.
TEST(RuleWords, WhatCanAlwaysBeToldSaysNothingMore) {
  const std::string item = "item { self_harm: true at_least { value: 1 } }";
  const std::string asked = "not { item_unanswered { self_harm: true } }";
  const std::vector<std::pair<std::string, bool>> rows = {
      {"enrolled {}", false},
      {"wish_recorded {}", false},
      {"contact_since {}", false},
      {"not { total_disagrees {} }", false},
      {"not { willing {} }", true},
      {item, true},
      {Any(std::string(kB) + kC), false},
      {Any(std::string(kA) + kB), true},
      {All(std::string(kB) + kC), false},
      {All(std::string(kA) + kB), true},
      // Unanswered makes the first part a plain no.
      {All(Part(asked) + Part(item)), false},
      {All(Part(item) + Part(asked)), false},
      {All(Part(asked) + Part("not { " + item + " }")), false},
      {All(Part("wish_recorded {}") + kA), false},
      {All(Part("wish_recorded {}") + Part("not { willing {} }")), false},
      // These do not.
      {All(Part("item_unanswered { self_harm: true }") + Part(item)), true},
      {All(Part(R"(not { item_unanswered { question: "q-1" } })") + Part(item)),
       true},
      {Any(Part(asked) + Part(item)), true},
      {All(Part("wish_recorded {}") + Part(item)), true},
  };
  for (const auto& [condition, can_be_unknown] : rows) {
    EXPECT_EQ(!Unknown("condition { " + condition + " }").empty(),
              can_be_unknown)
        << condition;
  }
}

TEST(RuleWords, WhenItIsAsked) {
  const std::string contact =
      "contact (enrolment, screening, attended visit or practice report)";
  const std::vector<std::pair<std::string, std::string>> rows = {
      {kOnPhq9, "when a PHQ-9 comes in"},
      {R"(screening { instrument: "epds" instrument: "phq-9" })",
       "when an EPDS or PHQ-9 comes in"},
      {R"(screening { instrument: "phq-9" instrument: "epds"
                      instrument: "unheard-of" })",
       "when a PHQ-9, EPDS or unheard-of comes in"},
      {"visit_planned {}", "when a visit is planned"},
      {"visit_outcome {}", "when a visit's outcome comes in"},
      {"practice_report {}", "when a practice report comes in"},
      {"enrolment {}", "at enrolment"},
      {"discharge {}", "at discharge"},
      {"contact {}", "at every " + contact},
      {std::string(kOnPhq9) + " after_working_days { value: 2 }",
       "2 working days after a PHQ-9"},
      {"visit_planned {} after_working_days { setting: \"due\" }",
       "1 working day (due) after a planned visit"},
      {"visit_outcome {} after_days { value: 1 }",
       "1 day after a visit's outcome"},
      {"practice_report {} after_days { value: 2 }",
       "2 days after a practice report"},
      {"enrolment {} after_days { value: 60 }", "60 days after enrolment"},
      {"discharge {} after_days { value: 30 }", "30 days after discharge"},
      {"contact {} after_days { value: 30 }", "30 days after a " + contact},
  };
  for (const auto& [when, asked] : rows) {
    EXPECT_EQ(Words(Parse<v1::Rule>("when { " + when + " }")).asked, asked);
  }
}

TEST(RuleWords, WhatTheAlertIs) {
  EXPECT_EQ(Words(Parse<v1::Rule>("kind: ALERT_KIND_SAFETY latched: true "
                                  "priority: PRIORITY_STAT"))
                .alert,
            "safety, stat, latched");
  EXPECT_EQ(Words(Parse<v1::Rule>("kind: ALERT_KIND_STEPPED_CARE "
                                  "priority: PRIORITY_ASAP"))
                .alert,
            "stepped-care, asap");
}

TEST(RuleWords, ARuleSetsOwnNumbers) {
  const auto rules = Parse<v1::RuleSet>(R"(
    id: "a" version: 1 title: "A"
    setting { name: "x" value: 7 low: 1 high: 9 unit: "points" source: "-" })");
  const auto numbers = OwnSettings(rules);
  ASSERT_EQ(numbers.size(), 1u);
  EXPECT_EQ(numbers.at("x").value, 7);
  EXPECT_EQ(numbers.at("x").whose, "rule set");
}

}  // namespace
}  // namespace turnstone

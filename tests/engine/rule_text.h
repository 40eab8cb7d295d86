// Rules written as text, and what is said of them.
#pragma once

#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <map>
#include <string>

#include "rules/engine/rule_words.h"

namespace turnstone {

template <typename Message>
Message Parse(const std::string& text) {
  Message message;
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &message))
      << text;
  return message;
}

inline Catalogue MakeCatalogue() {
  return Catalogue({
      Parse<v1::Instrument>(R"(
        id: "phq-9" name: "PHQ-9"
        item { code: "q-1" label: "Sleep" answers: "a" }
        item { code: "q-2" label: "Harm" answers: "a" self_harm: true }
        answer_list { id: "a" answer { code: "y" score: 3 } })"),
      Parse<v1::Instrument>(R"(id: "epds" name: "EPDS")"),
      Parse<v1::Instrument>(R"(id: "gad-7" name: "GAD-7")"),
      Parse<v1::Instrument>(R"(
        id: "memory" name: "Memory screen"
        result { code: "pos" label: "positive" }
        result { code: "neg" label: "negative" })"),
  });
}

inline const std::map<std::string, SettingInForce>& Numbers() {
  static const std::map<std::string, SettingInForce> numbers = {
      {"above-range", {20, "rule set"}},
      {"lower", {10, "site"}},
      {"reliable", {6, "rule set, phq-9 preset delgadillo-2014"}},
      {"share", {50, "site, phq-9 preset own"}},
      {"due", {1, "rule set"}},
  };
  return numbers;
}

inline RuleWords Words(const v1::Rule& rule) {
  return DescribeRule(rule, MakeCatalogue(), Numbers());
}

inline constexpr char kOnPhq9[] = R"(screening { instrument: "phq-9" })";

// What raises, without what happens if it cannot be told.
inline std::string Raises(const std::string& condition,
                          const std::string& when = kOnPhq9) {
  auto rule = Parse<v1::Rule>("priority: PRIORITY_ASAP when { " + when +
                              " } condition { " + condition + " }");
  const std::string words = Words(rule).raises_when;
  return words.substr(0, words.find("; if that cannot be told"));
}

// Parts to put together.
inline constexpr char kA[] = "condition { willing {} } ";
inline constexpr char kB[] = "condition { not { enrolled {} } } ";
inline constexpr char kC[] = "condition { total_disagrees {} } ";

inline std::string All(const std::string& parts) {
  return "all_of { " + parts + "}";
}
inline std::string Any(const std::string& parts) {
  return "any_of { " + parts + "}";
}
inline std::string Part(const std::string& condition) {
  return "condition { " + condition + " } ";
}

}  // namespace turnstone

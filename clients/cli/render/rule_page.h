// Rules in plain words: for a person, for a document, for a program.
#pragma once

#include <string>
#include <vector>

#include "rules/engine/rule_words.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone::cli {

struct DescribedRule {
  std::string rule_set;
  v1::Rule rule;
  RuleWords words;
};

// What text from files the three hold is cleaned.

// One below another, wrapped, an empty line between them.
[[nodiscard]] std::string RulePage(const std::vector<DescribedRule>& rules);

// A Markdown table, one rule a line.
[[nodiscard]] std::string RuleTable(const std::vector<DescribedRule>& rules);

// One JSON object with ruleSet, rule, version, title, asked, raisesWhen, alert
// and source; no newline.
[[nodiscard]] std::string RuleJson(const DescribedRule& rule);

}  // namespace turnstone::cli

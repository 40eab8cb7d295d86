#include "clients/cli/render/rule_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>

#include <nlohmann/json.hpp>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"

namespace turnstone::cli {
namespace {

std::string Line(const std::string& label, const std::string& text) {
  constexpr size_t kHanging = 15;
  return WrapAfter(Pad("  " + label, kHanging), CleanLine(text), kHanging);
}

// A bar would end the cell.
std::string Cell(const std::string& text) {
  return absl::StrReplaceAll(CleanLine(text), {{"\\", "\\\\"}, {"|", "\\|"}});
}

}  // namespace

std::string RulePage(const std::vector<DescribedRule>& rules) {
  std::vector<std::string> parts;
  for (const auto& [rule_set, rule, words] : rules) {
    const std::string heading =
        CleanLine(absl::StrCat(rule_set, ", ", rule.id(), ", version ",
                               rule.version(), ": ", rule.title()));
    parts.push_back(absl::StrCat(
        WrapAfter("", heading, 2), Line("asked", words.asked),
        Line("raises when", words.raises_when), Line("alert", words.alert),
        Line("source", rule.source())));
  }
  return absl::StrJoin(parts, "\n");
}

std::string RuleTable(const std::vector<DescribedRule>& rules) {
  std::string table =
      "| rule | asked | raises when | alert | source |\n"
      "|---|---|---|---|---|\n";
  for (const auto& [rule_set, rule, words] : rules) {
    absl::StrAppend(&table, "| `", Cell(rule.id()), "` | ", Cell(words.asked),
                    " | ", Cell(words.raises_when), " | ", Cell(words.alert),
                    " | ", Cell(rule.source()), " |\n");
  }
  return table;
}

std::string RuleJson(const DescribedRule& described) {
  const v1::Rule& rule = described.rule;
  const RuleWords& words = described.words;
  const nlohmann::ordered_json json = {
      {"ruleSet", described.rule_set},
      {"rule", rule.id()},
      {"version", rule.version()},
      {"title", CleanLine(rule.title())},
      {"asked", CleanLine(words.asked)},
      {"raisesWhen", CleanLine(words.raises_when)},
      {"alert", words.alert},
      {"source", CleanLine(rule.source())}};
  return json.dump();
}

}  // namespace turnstone::cli

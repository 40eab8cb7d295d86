#include "clients/cli/render/diff_page.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"

namespace turnstone::cli {
namespace {

// It may change when rules are asked, and whom an alert reaches.
constexpr char kLeftOut[] =
    "Not compared: what else a site's file says, such as its calendar, people, "
    "ladders and protocols.";

std::string Point(const std::string& line, size_t indent) {
  return WrapAfter(std::string(indent, ' '), CleanBlock(line), indent + 2);
}

std::string Points(const std::string& title,
                   const std::vector<std::string>& lines) {
  if (lines.empty()) return "";
  std::string text = absl::StrCat("  ", title, "\n");
  for (const std::string& line : lines) text += Point(line, 4);
  return text;
}

std::string ChangedRules(const std::vector<RuleChange>& changes) {
  std::string text;
  for (const auto& [rule, what, lines] : changes) {
    absl::StrAppend(&text, "  the rule ", CleanLine(rule), " is ", what, "\n");
    for (const std::string& line : lines) text += Point(line, 4);
  }
  return text;
}

std::string SecondPerson(const std::vector<RulesDifference>& all) {
  std::string sentences;
  for (const RulesDifference& each : all) {
    for (const std::string& why : each.fewer_safety) {
      sentences += Point(absl::StrCat(each.of, ": ", why), 2);
    }
  }
  if (sentences.empty()) return "";
  return absl::StrCat(
      "\nNEEDS A SECOND PERSON: there may be fewer safety alerts than before\n",
      sentences);
}

std::vector<std::string> CleanLines(std::vector<std::string> lines) {
  std::transform(lines.begin(), lines.end(), lines.begin(), CleanLine);
  return lines;
}

}  // namespace

bool RulesDifference::Empty() const {
  return fewer_safety.empty() && numbers.empty() && rules.empty() &&
         around.empty();
}

std::string DiffPage(const std::string& from, const std::string& to,
                     const std::vector<RulesDifference>& all) {
  std::string page =
      WrapAfter("", CleanLine(absl::StrCat("from ", from, " to ", to)), 2);
  page += SecondPerson(all);
  const bool same =
      std::all_of(all.begin(), all.end(),
                  [](const RulesDifference& each) { return each.Empty(); });
  if (same) {
    page +=
        "\nNothing differs in rules, numbers, instruments and properties.\n";
  }
  for (const RulesDifference& each : all) {
    if (same || (each.Empty() && each.of == kEverySite)) continue;
    absl::StrAppend(&page, "\n", CleanLine(each.of), "\n",
                    each.Empty() ? "  nothing differs\n" : "",
                    Points("numbers", each.numbers), ChangedRules(each.rules),
                    Points("besides", each.around));
  }
  return absl::StrCat(page, "\n", WrapAfter("", kLeftOut, 2));
}

std::string DiffJson(const std::vector<RulesDifference>& all) {
  std::string text;
  for (const RulesDifference& each : all) {
    nlohmann::ordered_json rules = nlohmann::ordered_json::array();
    for (const auto& [rule, what, lines] : each.rules) {
      rules.push_back({{"rule", CleanLine(rule)},
                       {"what", what},
                       {"lines", CleanLines(lines)}});
    }
    const nlohmann::ordered_json json = {
        {"of", CleanLine(each.of)},
        {"fewerSafety", CleanLines(each.fewer_safety)},
        {"numbers", CleanLines(each.numbers)},
        {"rules", std::move(rules)},
        {"around", CleanLines(each.around)}};
    absl::StrAppend(&text, json.dump(), "\n");
  }
  return text;
}

}  // namespace turnstone::cli

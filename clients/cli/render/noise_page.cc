#include "clients/cli/render/noise_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_format.h>

#include <nlohmann/json.hpp>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"

namespace turnstone::cli {
namespace {

constexpr const char* kAbout =
    "Out of 100 people whose true state never changes, so many set the rule "
    "off at least once, through measurement error alone. Errors are taken to "
    "be normal; \"whole points\" is for totals as they are, rounded, the other "
    "line as published budgets reckon, without. \"+-\" is the standard error "
    "of "
    "a simulation, the others are exact. Each condition is taken alone: other "
    "conditions of its rule only make it speak less often.";

std::string Percent(const Chance& chance) {
  std::string text = absl::StrFormat("%.1f", 100 * chance.share);
  if (chance.error) {
    absl::StrAppendFormat(&text, " +-%.2f", 100 * *chance.error);
  }
  return text;
}

std::string ErrorOf(const NoiseRow& row) {
  if (!row.sem) return "whatever the error";
  if (row.whole_totals) return "  whole points";
  return CleanLine(absl::StrFormat("%.2f points (%s)", *row.sem, row.preset));
}

std::string TableOf(const NoiseOf& noise) {
  std::vector<std::string> headings{"MEASUREMENT ERROR"};
  for (const NoiseAt& at : noise.row[0].at) {
    headings.push_back(absl::StrCat(at.follow_ups, " FOLLOW-UP",
                                    at.follow_ups == 1 ? "" : "S"));
  }
  Table table(headings);
  for (const NoiseRow& row : noise.row) {
    std::vector<std::string> cells{ErrorOf(row)};
    for (const NoiseAt& at : row.at) cells.push_back(Percent(at.chance));
    table.Add(std::move(cells));
  }
  return table.ToString(2);
}

}  // namespace

std::string NoisePage(const std::vector<NoiseOf>& noise) {
  std::string page = absl::StrCat("\n", Wrap(kAbout, 0));
  for (const NoiseOf& each : noise) {
    const std::string where =
        each.site.empty() ? "" : absl::StrCat(each.site, ", ");
    absl::StrAppend(
        &page, "\n",
        WrapAfter(
            "", CleanLine(absl::StrCat(where, each.rule, ": ", each.condition)),
            2));
    if (!each.note.empty()) absl::StrAppend(&page, Wrap(each.note, 2));
    if (!each.row.empty()) absl::StrAppend(&page, TableOf(each));
  }
  return page;
}

std::string NoiseJson(const NoiseOf& noise) {
  nlohmann::ordered_json json = {{"site", CleanLine(noise.site)},
                                 {"rule", CleanLine(noise.rule)},
                                 {"condition", CleanLine(noise.condition)},
                                 {"note", CleanLine(noise.note)},
                                 {"rows", nlohmann::ordered_json::array()}};
  for (const NoiseRow& row : noise.row) {
    nlohmann::ordered_json out;
    if (row.sem) {
      out["sem"] = *row.sem;
      out["preset"] = CleanLine(row.preset);
      out["wholeTotals"] = row.whole_totals;
    }
    for (const NoiseAt& at : row.at) {
      nlohmann::ordered_json cell = {{"followUps", at.follow_ups},
                                     {"share", at.chance.share}};
      if (at.chance.error) cell["standardError"] = *at.chance.error;
      out["at"].push_back(cell);
    }
    json["rows"].push_back(out);
  }
  return json.dump();
}

}  // namespace turnstone::cli

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iterator>
#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/config_files.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/findings.h"
#include "clients/cli/render/noise_page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/rules_concerns.h"
#include "rules/check/load.h"
#include "rules/check/noise_report.h"
#include "rules/check/reliable_changes.h"

namespace turnstone::cli {
namespace {

// "home-visits: coverage 100 %: 214 of 214": what the examples show of what
// they could; rounded down, so that 100 is all.
std::string CoverageLines(const std::vector<Coverage>& coverage) {
  std::string lines;
  for (const Coverage& each : coverage) {
    if (each.total == 0) continue;
    absl::StrAppend(&lines, each.rule_set, ": coverage ",
                    100 * each.shown / each.total, " %: ", each.shown, " of ",
                    each.total, "\n");
  }
  return lines;
}

// Rule sets that were not tried out.
std::string UntriedLines(const LoadResult& result) {
  std::string lines;
  for (const v1::RuleSet& rules : result.configuration->rule_set()) {
    const bool tried = std::any_of(
        result.coverage.begin(), result.coverage.end(),
        [&](const Coverage& each) { return each.rule_set == rules.id(); });
    if (tried) continue;
    absl::StrAppend(&lines, rules.id(),
                    ": examples not tried; add the folder with instruments/\n");
  }
  return lines;
}

std::string Summary(const v1::Configuration& configuration) {
  int rules = 0;
  for (const v1::RuleSet& set : configuration.rule_set()) {
    rules += set.rule_size();
  }
  return absl::StrCat(Count(configuration.instrument_size(), "instrument"),
                      ", ", Count(configuration.rule_set_size(), "rule set"),
                      ", ", Count(rules, "rule"), ", ",
                      Count(configuration.site_size(), "site"));
}

struct CheckOptions {
  std::vector<std::string> paths;
  bool explain_noise = false;
  std::string at;  // empty: today
  bool strict = false;
};

void ExplainNoise(const Console& console, const Settings& settings,
                  const v1::Configuration& configuration) {
  if (console.err_is_terminal) {
    console.err << "reckoning with measurement error, some seconds ..."
                << std::endl;
  }
  const std::vector<NoiseOf> noise = ReckonNoise(configuration);
  if (!settings.json) {
    console.out << NoisePage(noise);
    return;
  }
  for (const NoiseOf& each : noise) console.out << NoiseJson(each) << "\n";
}

// How many.
int64_t TellConcerns(const Console& console, const Settings& settings,
                     const v1::Configuration& configuration,
                     const LookFrom& from) {
  const std::vector<SiteConcern> concerns =
      ConcernsOfSites(configuration, from);
  console.out << ConcernsText(concerns, settings.json);
  return std::ssize(concerns);
}

ExitCode CheckRules(const Console& console, const Settings& settings,
                    const CheckOptions& options) {
  const auto from = ParseLookFrom(options.at, console.now());
  if (!from.ok()) return ReportUsage(console, from.status());
  const auto files = ReadConfigFiles(options.paths);
  if (!files.ok()) return ReportUsage(console, files.status());
  const LoadResult result = LoadConfiguration(
      files->text, {.complete = files->complete, .review = true});
  console.out << FindingsText(result.findings, files->text, settings.json);
  std::ostream& where = settings.json ? console.err : console.out;
  where << CoverageLines(result.coverage);
  if (!result.configuration.has_value()) {
    where << "refused: "
          << Count(static_cast<int64_t>(result.findings.size()), "finding")
          << " in " << Count(static_cast<int64_t>(files->text.size()), "file")
          << "\n";
    return ExitCode::kRefused;
  }
  const int64_t to_see_to =
      TellConcerns(console, settings, *result.configuration, *from);
  if (options.strict && to_see_to > 0) {
    where << "refused, as --strict asks: " << to_see_to << " to see to\n";
    return ExitCode::kRefused;
  }
  where << UntriedLines(result) << "good: " << Summary(*result.configuration)
        << "\n";
  if (!options.explain_noise) return ExitCode::kDone;
  const absl::Status known = NumbersAreKnown(*result.configuration);
  if (!known.ok()) return ReportUsage(console, known);
  ExplainNoise(console, settings, *result.configuration);
  return ExitCode::kDone;
}

}  // namespace

void AddRules(CLI::App& app, Command& chosen) {
  auto* rules = app.add_subcommand(
      "rules", "rule sets, and their versions in the service");
  rules->require_subcommand(1);
  AddRulesDescribe(*rules, chosen);
  AddRulesDiff(*rules, chosen);
  AddRulesHelp(*rules, chosen);
  AddRulesProve(*rules, chosen);
  AddRulesVersions(*rules, chosen);
  AddRulesReplay(*rules, chosen);
  auto* check = rules->add_subcommand(
      "check", "look over instruments, rule sets and sites");
  auto options = std::make_shared<CheckOptions>();
  check
      ->add_option("PATH", options->paths,
                   "files, or folders with instruments/, packs/ or sites/")
      ->required();
  check->add_flag(
      "--explain-noise", options->explain_noise,
      "how often rules on change speak of people who do not change");
  check->add_option("--at", options->at,
                    "look ahead from this day, e.g. 2027-02-06; left out, "
                    "from today");
  check->add_flag("--strict", options->strict,
                  "refuse also where something is to be seen to");
  check->callback([options, &chosen] {
    chosen = [options](const Console& console, const Settings& settings) {
      return CheckRules(console, settings, *options);
    };
  });
}

}  // namespace turnstone::cli

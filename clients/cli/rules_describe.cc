#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <memory>
#include <utility>

#include "clients/cli/commands.h"
#include "clients/cli/config_files.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/findings.h"
#include "clients/cli/render/rule_page.h"
#include "clients/cli/render/text.h"
#include "rules/check/load.h"
#include "rules/check/reliable_changes.h"
#include "rules/engine/rule_words.h"
#include "rules/engine/setup.h"

namespace turnstone::cli {
namespace {

struct DescribeOptions {
  std::vector<std::string> paths;
  std::string site;  // empty: each rule set's own numbers
  bool markdown = false;
};

void Describe(const v1::RuleSet& rules, const Catalogue& catalogue,
              const std::map<std::string, SettingInForce>& settings,
              std::vector<DescribedRule>& described) {
  for (const v1::Rule& rule : rules.rule()) {
    described.push_back(
        {rules.id(), rule, DescribeRule(rule, catalogue, settings)});
  }
}

absl::StatusOr<const Site*> FindSite(const Setup& setup,
                                     const std::string& id) {
  const Site* site = setup.FindSite(id);
  if (site == nullptr) {
    std::vector<std::string> ids;
    for (const auto& [name, ignored] : setup.sites()) ids.push_back(name);
    return absl::NotFoundError(
        ids.empty()
            ? "there is no site among the files; add the folder with "
              "sites/, or leave --site out"
            : absl::StrCat("there is no site ", CleanLine(id),
                           "; write one of ", absl::StrJoin(ids, ", ")));
  }
  if (site->rules.rule().empty()) {
    return absl::NotFoundError(
        absl::StrCat("the rule set of ", id, ", ", site->config.rule_set(),
                     ", is not among the files; add the folder with packs/"));
  }
  return site;
}

absl::StatusOr<std::vector<DescribedRule>> DescribeAll(
    const v1::Configuration& configuration, const std::string& site_id) {
  std::vector<DescribedRule> described;
  const Setup setup(configuration, "");
  const absl::Status known = NumbersAreKnown(configuration);
  if (!known.ok()) return known;
  if (!site_id.empty()) {
    const auto site = FindSite(setup, site_id);
    if (!site.ok()) return site.status();
    Describe((*site)->rules, setup.catalogue(), (*site)->settings, described);
    return described;
  }
  for (const v1::RuleSet& rules : configuration.rule_set()) {
    Describe(rules, setup.catalogue(), OwnSettings(rules), described);
  }
  if (!described.empty()) return described;
  return absl::NotFoundError(
      "there is no rule set among the files; add the folder with packs/");
}

// Whose numbers the page shows, where a site may have others.
std::string WhoseNumbers(const v1::Configuration& configuration,
                         const std::string& site_id) {
  if (!site_id.empty() || configuration.site().empty()) return "";
  std::vector<std::string> ids;
  for (const v1::SiteConfig& site : configuration.site())
    ids.push_back(site.id());
  return WrapAfter("",
                   CleanLine(absl::StrCat(
                       "Numbers of the rule set; for those of a site add "
                       "--site ID (",
                       absl::StrJoin(ids, ", "), ")")),
                   2) +
         "\n";
}

ExitCode DescribeRules(const Console& console, const Settings& settings,
                       const DescribeOptions& options) {
  const auto files = ReadConfigFiles(options.paths);
  if (!files.ok()) return ReportUsage(console, files.status());
  const LoadResult result =
      LoadConfiguration(files->text, {.complete = files->complete});
  console.err << FindingsText(result.findings, files->text, settings.json);
  if (!result.configuration.has_value()) {
    console.err << "refused: mend what is named above\n";
    return ExitCode::kRefused;
  }
  const auto rules = DescribeAll(*result.configuration, options.site);
  if (!rules.ok()) return ReportUsage(console, rules.status());
  if (settings.json) {
    for (const DescribedRule& rule : *rules) {
      console.out << RuleJson(rule) << "\n";
    }
  } else if (options.markdown) {
    console.out << RuleTable(*rules);
  } else {
    console.out << WhoseNumbers(*result.configuration, options.site)
                << RulePage(*rules);
  }
  return ExitCode::kDone;
}

}  // namespace

void AddRulesDescribe(CLI::App& rules, Command& chosen) {
  auto* describe = rules.add_subcommand(
      "describe", "what each rule asks for, in plain words");
  auto options = std::make_shared<DescribeOptions>();
  describe
      ->add_option("PATH", options->paths,
                   "files, or folders with instruments/, packs/ or sites/")
      ->required();
  describe->add_option("--site", options->site,
                       "with this site's numbers instead of the rule set's");
  describe->add_flag("--markdown", options->markdown, "as a table");
  describe->callback([options, &chosen] {
    chosen = [options](const Console& console, const Settings& settings) {
      return DescribeRules(console, settings, *options);
    };
  });
}

}  // namespace turnstone::cli

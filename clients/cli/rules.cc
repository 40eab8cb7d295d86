#include <absl/strings/str_cat.h>

#include <filesystem>
#include <memory>
#include <system_error>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/findings.h"
#include "clients/cli/render/text.h"
#include "platform/files.h"
#include "rules/check/load.h"

namespace turnstone::cli {
namespace {

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

ExitCode CheckRules(const Console& console, const Settings& settings,
                    const std::string& path) {
  std::error_code ignored;
  const bool complete = std::filesystem::is_directory(
      std::filesystem::path(path) / "sites", ignored);
  const auto files = ReadTextprotos(path);
  if (!files.ok()) return ReportUsage(console, files.status());
  if (files->empty()) {
    return ReportUsage(console, absl::NotFoundError(absl::StrCat(
                                    "no file below ", path,
                                    " ends in .textproto; write the folder "
                                    "that holds them")));
  }
  const LoadResult result = LoadConfiguration(*files, complete);
  for (const Finding& finding : result.findings) {
    console.out << (settings.json ? FindingJson(finding) + "\n"
                                  : FindingText(finding, *files));
  }
  std::ostream& where = settings.json ? console.err : console.out;
  if (!result.configuration.has_value()) {
    where << "refused: "
          << Count(static_cast<int64_t>(result.findings.size()), "finding")
          << " in " << Count(static_cast<int64_t>(files->size()), "file")
          << "\n";
    return ExitCode::kRefused;
  }
  where << "good: " << Summary(*result.configuration) << "\n";
  return ExitCode::kDone;
}

}  // namespace

void AddRules(CLI::App& app, Command& chosen) {
  auto* rules = app.add_subcommand("rules", "rule sets, without the service");
  rules->require_subcommand(1);
  auto* check = rules->add_subcommand(
      "check", "look over instruments, rule sets and sites");
  auto path = std::make_shared<std::string>();
  check
      ->add_option("PATH", *path,
                   "a file, or a folder with instruments/, packs/ and sites/")
      ->required();
  check->callback([path, &chosen] {
    chosen = [path](const Console& console, const Settings& settings) {
      return CheckRules(console, settings, *path);
    };
  });
}

}  // namespace turnstone::cli

#include <absl/strings/str_cat.h>

#include <filesystem>
#include <map>
#include <memory>
#include <system_error>
#include <utility>

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

struct Files {
  std::map<std::string, std::string> text;  // by path
  bool complete = false;                    // there are sites among them
};

absl::StatusOr<Files> ReadAll(const std::vector<std::string>& paths) {
  Files files;
  for (const std::string& path : paths) {
    std::error_code ignored;
    files.complete |= std::filesystem::is_directory(
        std::filesystem::path(path) / "sites", ignored);
    absl::StatusOr<std::map<std::string, std::string>> text =
        ReadTextprotos(path);
    if (!text.ok()) return text.status();
    files.text.merge(*std::move(text));
  }
  if (!files.text.empty()) return files;
  return absl::NotFoundError(
      "no file there ends in .textproto; write the folder that holds them");
}

ExitCode CheckRules(const Console& console, const Settings& settings,
                    const std::vector<std::string>& paths) {
  const auto files = ReadAll(paths);
  if (!files.ok()) return ReportUsage(console, files.status());
  const LoadResult result = LoadConfiguration(files->text, files->complete);
  for (const Finding& finding : result.findings) {
    console.out << (settings.json ? FindingJson(finding) + "\n"
                                  : FindingText(finding, files->text));
  }
  std::ostream& where = settings.json ? console.err : console.out;
  if (!result.configuration.has_value()) {
    where << "refused: "
          << Count(static_cast<int64_t>(result.findings.size()), "finding")
          << " in " << Count(static_cast<int64_t>(files->text.size()), "file")
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
  auto paths = std::make_shared<std::vector<std::string>>();
  check
      ->add_option("PATH", *paths,
                   "files, or folders with instruments/, packs/ or sites/")
      ->required();
  check->callback([paths, &chosen] {
    chosen = [paths](const Console& console, const Settings& settings) {
      return CheckRules(console, settings, *paths);
    };
  });
}

}  // namespace turnstone::cli

#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <filesystem>
#include <memory>
#include <regex>
#include <system_error>

#include "clients/cli/commands.h"
#include "clients/cli/diff_sites.h"
#include "clients/cli/replay_setup.h"

namespace turnstone::cli {
namespace {

struct DiffOptions {
  std::string before;
  std::string after;
  std::string site;  // empty: every site
};

// A version in the service rather than files. What exists as a file is one.
bool IsVersion(const std::string& text) {
  static const std::regex digest("[0-9a-f]{6,64}|in-force|proposed");
  std::error_code ignored;
  return std::regex_match(text, digest) &&
         !std::filesystem::exists(text, ignored);
}

absl::StatusOr<v1::Configuration> FetchVersion(const Connection& connection,
                                               const std::string& digest) {
  v1::GetVersionRequest request;
  request.set_digest(digest);
  auto content = connection.Call(*connection.rules,
                                 &v1::RuleService::Stub::GetVersion, request);
  if (!content.ok()) return content.status();
  return content->configuration();
}

ExitCode RunDiff(const Console& console, const Settings& settings,
                 const DiffOptions& options, const Connection* connection) {
  std::vector<v1::Configuration> sides;
  for (const std::string* side : {&options.before, &options.after}) {
    const bool version = connection != nullptr && IsVersion(*side);
    auto read = version
                    ? FetchVersion(*connection, *side)
                    : ReadChecked(console, side == &options.before ? "A" : "B",
                                  absl::StrSplit(*side, ','));
    if (!read.ok()) {
      return version ? Report(console, read.status())
                     : ReportUsage(console, read.status());
    }
    sides.push_back(*std::move(read));
  }
  const auto all = DiffSites(sides[0], sides[1], options.site);
  if (!all.ok()) return ReportUsage(console, all.status());
  console.out << (settings.json
                      ? DiffJson(*all)
                      : DiffPage(options.before, options.after, *all));
  return ExitCode::kDone;
}

}  // namespace

void AddRulesDiff(CLI::App& rules, Command& chosen) {
  auto* diff = rules.add_subcommand(
      "diff", "what differs between two versions, in plain words");
  auto options = std::make_shared<DiffOptions>();
  const std::string what =
      "a file or folder (several parted by commas, e.g. "
      "rules,deploy/config), or a version in the service: its digest or the "
      "first 6 characters of it, in-force or proposed";
  diff->add_option("A", options->before, what)->required();
  diff->add_option("B", options->after, "what to compare with it, likewise")
      ->required();
  diff->add_option("--site", options->site,
                   "with this site's numbers; left out, every site both have");
  diff->footer(
      "Where there may be fewer safety alerts, that stands first: a second "
      "person must\nagree before such a version is in force. The exit code is "
      "0 "
      "all the same.");
  diff->callback([options, &chosen] {
    if (IsVersion(options->before) || IsVersion(options->after)) {
      chosen =
          Online([options](const Console& console, const Settings& settings,
                           const Connection& connection) {
            return RunDiff(console, settings, *options, &connection);
          });
      return;
    }
    chosen = [options](const Console& console, const Settings& settings) {
      return RunDiff(console, settings, *options, nullptr);
    };
  });
}

}  // namespace turnstone::cli

#include "clients/cli/replay_setup.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <regex>
#include <utility>

#include "clients/cli/config_files.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/findings.h"
#include "clients/cli/when.h"
#include "rules/check/load.h"

namespace turnstone::cli {
namespace {

// The beginning of a day at the site; `otherwise` where none is given.
absl::StatusOr<absl::Time> DayOr(absl::Time otherwise,
                                 const std::string& option,
                                 const std::string& text, absl::TimeZone zone) {
  if (text.empty()) return otherwise;
  static const std::regex day(R"(\d{4}-\d{2}-\d{2})");
  if (!std::regex_match(text, day)) {
    return absl::InvalidArgumentError(
        absl::StrCat(option, " is not a day;\nwrite one such as 2027-02-06"));
  }
  return ParseWhen(option, text + " 00:00", absl::InfinitePast(), zone);
}

}  // namespace

absl::StatusOr<v1::Configuration> ReadChecked(
    const Console& console, const std::string& option,
    const std::vector<std::string>& paths) {
  const auto files = ReadConfigFiles(paths);
  if (!files.ok()) return files.status();
  LoadResult result =
      LoadConfiguration(files->text, {.complete = files->complete});
  console.err << FindingsText(result.findings, files->text, /*json=*/false);
  if (!result.configuration.has_value()) {
    return absl::FailedPreconditionError(absl::StrCat(
        option, ": the configuration is refused; mend what is named above"));
  }
  return *std::move(result.configuration);
}

absl::StatusOr<v1::Configuration> ReadWhole(
    const Console& console, const std::string& option,
    const std::vector<std::string>& paths) {
  absl::StatusOr<v1::Configuration> configuration =
      ReadChecked(console, option, paths);
  if (configuration.ok() && configuration->site().empty()) {
    return absl::InvalidArgumentError(
        absl::StrCat(option,
                     ": there is no site among the files;\nwrite a whole "
                     "configuration, with instruments/, packs/ and sites/"));
  }
  return configuration;
}

absl::StatusOr<std::string> ChooseSite(const std::string& asked,
                                       const Setup& before,
                                       const Setup& after) {
  const auto& sites = after.sites();
  if (asked.empty() && sites.size() > 1) {
    return absl::InvalidArgumentError(
        "there is more than one site among the files; say which with --site");
  }
  const std::string site = asked.empty() ? sites.begin()->first : asked;
  for (const Setup* side : {&before, &after}) {
    if (side->FindSite(site) != nullptr) continue;
    return absl::InvalidArgumentError(
        absl::StrCat("there is no site ", CleanLine(site), " in ",
                     side == &after ? "--rules" : "the rules before",
                     ";\nwrite the id of a site that is in both"));
  }
  return site;
}

absl::StatusOr<ReplayWindow> ParseReplayWindow(const std::string& first,
                                               const std::string& last,
                                               absl::Time end,
                                               absl::TimeZone zone) {
  const auto from = DayOr(absl::InfinitePast(), "--from", first, zone);
  if (!from.ok()) return from.status();
  const auto to = DayOr(end, "--to", last, zone);
  if (!to.ok()) return to.status();
  if (*from >= *to) {
    return absl::InvalidArgumentError(
        "--from is not before the end of the time;\nwrite an earlier day");
  }
  // What has not happened yet cannot be known.
  return ReplayWindow{*from, std::min(*to, end)};
}

}  // namespace turnstone::cli

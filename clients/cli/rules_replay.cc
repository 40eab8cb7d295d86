#include <memory>
#include <utility>
#include <vector>

#include "clients/cli/commands.h"
#include "clients/cli/render/replay_page.h"
#include "clients/cli/replay_events.h"
#include "clients/cli/replay_setup.h"
#include "rules/engine/setup.h"
#include "rules/measure/proto_time.h"
#include "rules/replay/replay.h"

namespace turnstone::cli {
namespace {

struct ReplayOptions {
  std::vector<std::string> rules;
  std::vector<std::string> before;
  std::string events;  // empty: the service's
  std::string site;
  std::string from;
  std::string to;
  bool all = false;
};

struct InForce {
  v1::Configuration configuration;
  absl::Time now;
};

absl::StatusOr<InForce> AskInForce(const Connection& connection) {
  const auto list =
      connection.Call(*connection.rules, &v1::RuleService::Stub::ListVersions,
                      v1::ListVersionsRequest());
  if (!list.ok()) return list.status();
  for (const v1::RuleVersion& version : list->version()) {
    if (version.status() != v1::VERSION_STATUS_IN_FORCE) continue;
    v1::GetVersionRequest request;
    request.set_digest(version.digest());
    auto content = connection.Call(*connection.rules,
                                   &v1::RuleService::Stub::GetVersion, request);
    if (!content.ok()) return content.status();
    return InForce{content->configuration(), FromProto(list->now())};
  }
  return absl::FailedPreconditionError("no version of the rules is in force");
}

// Both sides, and where the events come from: from a file, or over
// `connection`.
struct ReplaySource {
  const Setup& before;
  const Setup& after;
  absl::Time end;
  const Connection* connection;  // null: a file
};

// Returns how many events were refused.
absl::StatusOr<int> FeedReplay(const Console& console,
                               const ReplayOptions& options,
                               const ReplaySource& source,
                               const std::string& site, Replay& replay) {
  if (source.connection == nullptr) {
    return ReplayFile(console, options.events,
                      {source.before, source.after, site}, replay);
  }
  const absl::Status status =
      ReplayRecorded(console, *source.connection, site, replay);
  if (!status.ok()) return status;
  return 0;
}

ExitCode RunReplay(const Console& console, const Settings& settings,
                   const ReplayOptions& options, const ReplaySource& source) {
  const auto site = ChooseSite(options.site, source.before, source.after);
  if (!site.ok()) return ReportUsage(console, site.status());
  const absl::TimeZone zone = source.after.FindSite(*site)->calendar.zone();
  const auto window =
      ParseReplayWindow(options.from, options.to, source.end, zone);
  if (!window.ok()) return ReportUsage(console, window.status());
  Replay replay(source.before, source.after, *site, *window);
  const auto refused = FeedReplay(console, options, source, *site, replay);
  if (!refused.ok()) {
    return source.connection == nullptr ? ReportUsage(console, refused.status())
                                        : Report(console, refused.status());
  }
  const Difference difference = replay.Finish();
  const ReplayAbout about{*site, zone, *window, options.all};
  console.out << (settings.json ? ReplayJson(difference, about)
                                : ReplayPage(difference, about));
  return *refused == 0 ? ExitCode::kDone : ExitCode::kRefused;
}

ExitCode ReplayFromFile(const Console& console, const Settings& settings,
                        const ReplayOptions& options) {
  if (options.before.empty()) {
    return ReportUsage(
        console, absl::InvalidArgumentError(
                     "--events needs --before as well: the configuration to "
                     "compare with"));
  }
  const auto after = ReadWhole(console, "--rules", options.rules);
  if (!after.ok()) return ReportUsage(console, after.status());
  const auto before = ReadWhole(console, "--before", options.before);
  if (!before.ok()) return ReportUsage(console, before.status());
  const Setup old_setup(*before, "");
  const Setup new_setup(*after, "");
  return RunReplay(console, settings, options,
                   {old_setup, new_setup, absl::InfiniteFuture(), nullptr});
}

ExitCode ReplayFromService(const Console& console, const Settings& settings,
                           const ReplayOptions& options,
                           const Connection& connection) {
  const auto after = ReadWhole(console, "--rules", options.rules);
  if (!after.ok()) return ReportUsage(console, after.status());
  auto in_force = AskInForce(connection);
  if (!in_force.ok()) return Report(console, in_force.status());
  if (!options.before.empty()) {
    auto before = ReadWhole(console, "--before", options.before);
    if (!before.ok()) return ReportUsage(console, before.status());
    in_force->configuration = *std::move(before);
  }
  const Setup old_setup(in_force->configuration, "");
  const Setup new_setup(*after, "");
  return RunReplay(console, settings, options,
                   {old_setup, new_setup, in_force->now + absl::Microseconds(1),
                    &connection});
}

}  // namespace

void AddRulesReplay(CLI::App& rules, Command& chosen) {
  auto* replay = rules.add_subcommand(
      "replay", "what other rules would have raised over recorded events");
  auto options = std::make_shared<ReplayOptions>();
  replay
      ->add_option("--rules", options->rules,
                   "the candidate, a whole configuration: files, or folders "
                   "with instruments/, packs/ or sites/")
      ->required();
  replay->add_option("--before", options->before,
                     "what to compare with, likewise; left out, what is in "
                     "force in the service");
  replay->add_option("--events", options->events,
                     "a file of events, as submit takes it, instead of what "
                     "the service has recorded; each counts as recorded when "
                     "it happened");
  replay->add_option("--site", options->site,
                     "needed where there is more than one");
  replay->add_option("--from", options->from,
                     "compare what was raised from this day on, e.g. "
                     "2027-02-06");
  replay->add_option("--to", options->to, "and before this day");
  replay->add_flag("--all", options->all, "list everything that changes");
  replay->footer(
      "Only what changes is shown. Nobody is told, and nothing on record "
      "changes. That\nsafety reasons would be lost stands first; the exit code "
      "is 0 all the same, and\n1 where lines of --events were left out.");
  replay->callback([options, &chosen] {
    if (!options->events.empty()) {
      chosen = [options](const Console& console, const Settings& settings) {
        return ReplayFromFile(console, settings, *options);
      };
      return;
    }
    chosen = Online([options](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return ReplayFromService(console, settings, *options, connection);
    });
  });
}

}  // namespace turnstone::cli

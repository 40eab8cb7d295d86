#include <absl/strings/str_cat.h>

#include <algorithm>
#include <memory>
#include <utility>

#include "clients/cli/commands.h"
#include "clients/cli/fetch.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/word_option.h"

namespace turnstone::cli {
namespace {

struct Filter {
  std::string site;
  std::string participant;
  std::vector<std::string> status;
  std::vector<std::string> priority;
  std::vector<std::string> kind;
  bool all = false;
};

v1::ListAlertsRequest ToRequest(const Filter& filter) {
  v1::ListAlertsRequest request;
  request.set_site(filter.site);
  request.set_participant(filter.participant);
  request.set_page_size(100);
  for (const auto value : ValuesOf<v1::AlertStatus>(filter.status)) {
    request.add_status(value);
  }
  if (filter.status.empty() && !filter.all) AskForOpen(request);
  for (const auto value : ValuesOf<v1::Priority>(filter.priority)) {
    request.add_priority(value);
  }
  for (const auto value : ValuesOf<v1::AlertKind>(filter.kind)) {
    request.add_kind(value);
  }
  return request;
}

// About the most pressing one that is still open.
std::string NextLine(const std::vector<v1::Alert>& alerts) {
  const auto first = std::find_if(alerts.begin(), alerts.end(), IsOpen);
  if (first == alerts.end()) {
    return "\nNext: turnstone alert ID tells the whole story of one.\n";
  }
  const std::string id = CleanLine(first->alert_id());
  return absl::StrCat("\nNext: turnstone alert ", id,
                      " tells the whole story; turnstone receive ", id,
                      "\ntakes it on.\n");
}

void Show(const Console& console, const Filter& filter, const AlertList& list) {
  const bool only_open = filter.status.empty() && !filter.all;
  const std::string noun = only_open ? "open alert" : "alert";
  if (list.alerts.empty()) {
    console.out << "No " << noun << "s.\n";
    if (only_open) {
      console.out << "\nNext: turnstone alerts --all also shows those that "
                     "have ended.\n";
    }
    // A mistyped id has no alerts either.
    if (!filter.participant.empty()) {
      const std::string id = CleanLine(filter.participant);
      console.out << "\nWhether " << id
                  << " is known at all: turnstone participant " << id << "\n";
    }
    return;
  }
  const absl::TimeZone zone = Zone(list.alerts.front().time_zone());
  console.out << Count(static_cast<int64_t>(list.alerts.size()), noun)
              << ", as of " << DateTime(list.now, zone) << "\n\n"
              << AlertTable(list.alerts, list.now) << NextLine(list.alerts)
              << "\n"
              << kShortCaution << "\n";
}

ExitCode ListAlerts(const Console& console, const Settings& settings,
                    const Connection& connection, const Filter& filter) {
  const auto list = FetchAlerts(connection, ToRequest(filter));
  if (!list.ok()) return Report(console, list.status());
  if (settings.json) {
    for (const v1::Alert& alert : list->alerts) console.out << JsonLine(alert);
  } else {
    Show(console, filter, *list);
  }
  if (list->changed_meanwhile) {
    console.err << "turnstone: the list changed while it was read; run the "
                   "command again\n";
  }
  return ExitCode::kDone;
}

}  // namespace

void AddAlerts(CLI::App& app, Command& chosen) {
  auto* command =
      app.add_subcommand("alerts", "list open alerts, what cannot wait on top");
  auto filter = std::make_shared<Filter>();
  command->add_option("--site", filter->site, "only this site");
  command->add_option("--participant", filter->participant,
                      "only this participant");
  AddWords(*command, "--status", *v1::AlertStatus_descriptor(), filter->status);
  AddWords(*command, "--priority", *v1::Priority_descriptor(),
           filter->priority);
  AddWords(*command, "--kind", *v1::AlertKind_descriptor(), filter->kind);
  command->add_flag("--all", filter->all, "also those that have ended")
      ->excludes("--status");
  command->callback([filter, &chosen] {
    chosen = Online([filter](const Console& console, const Settings& settings,
                             const Connection& connection) {
      return ListAlerts(console, settings, connection, *filter);
    });
  });
}

}  // namespace turnstone::cli

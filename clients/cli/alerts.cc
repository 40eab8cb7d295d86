#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <memory>
#include <utility>

#include "clients/cli/commands.h"
#include "clients/cli/fetch.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

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

const std::vector<std::string>& OpenStatuses() {
  static const std::vector<std::string> open = {"requested", "received",
                                                "in-progress", "on-hold"};
  return open;
}

// An option that takes words for the values of an enum, separated by commas.
void AddWords(CLI::App& command, const std::string& name,
              const google::protobuf::EnumDescriptor& type,
              std::vector<std::string>& words) {
  const std::string accepted = absl::StrJoin(WordsOf(type), ", ");
  command.add_option(name, words, accepted)
      ->delimiter(',')
      ->allow_extra_args(false)
      ->check(CLI::Validator(
          [&type, accepted](const std::string& word) {
            return NumberFor(type, word).has_value()
                       ? std::string()
                       : absl::StrCat("no such word; write ", accepted);
          },
          "WORDS"));
}

// The words were checked when they were parsed.
template <typename Enum, typename Add>
void ForEachValue(const std::vector<std::string>& words, Add add) {
  for (const std::string& word : words) {
    const auto number =
        NumberFor(*google::protobuf::GetEnumDescriptor<Enum>(), word);
    if (number.has_value()) add(static_cast<Enum>(*number));
  }
}

v1::ListAlertsRequest ToRequest(const Filter& filter) {
  v1::ListAlertsRequest request;
  request.set_site(filter.site);
  request.set_participant(filter.participant);
  request.set_page_size(100);
  std::vector<std::string> status = filter.status;
  if (status.empty() && !filter.all) status = OpenStatuses();
  ForEachValue<v1::AlertStatus>(
      status, [&](v1::AlertStatus value) { request.add_status(value); });
  ForEachValue<v1::Priority>(filter.priority, [&](v1::Priority value) {
    request.add_priority(value);
  });
  ForEachValue<v1::AlertKind>(
      filter.kind, [&](v1::AlertKind value) { request.add_kind(value); });
  return request;
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
    return;
  }
  const absl::TimeZone zone = Zone(list.alerts.front().time_zone());
  console.out << Count(static_cast<int64_t>(list.alerts.size()), noun)
              << ", as of " << DateTime(list.now, zone) << "\n\n"
              << AlertTable(list.alerts, list.now) << "\nNext: turnstone alert "
              << CleanLine(list.alerts.front().alert_id())
              << " tells the whole story; turnstone receive takes it on.\n";
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

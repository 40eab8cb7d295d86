#include <absl/strings/str_cat.h>

#include <memory>
#include <utility>

#include "clients/cli/commands.h"
#include "clients/cli/fetch.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/time.h"
#include "clients/cli/when.h"
#include "rules/check/free_text.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

using Work = std::shared_ptr<v1::WorkAlertRequest>;

constexpr char kNote[] = "up to 1000 characters";
constexpr char kReason[] = "why, up to 1000 characters";

// For what would be done twice if it were repeated.
std::string LookFirst(const v1::WorkAlertRequest& request) {
  return absl::StrCat(
      "The result is not known. Look before you repeat it: turnstone alert ",
      CleanLine(request.alert_id()));
}

ExitCode Do(const Console& console, const Settings& settings,
            const Connection& connection, const v1::WorkAlertRequest& request) {
  const auto alert = connection.Call(
      *connection.alerts, &v1::AlertService::Stub::WorkAlert, request);
  if (!alert.ok()) {
    const bool twice =
        request.has_note() || request.has_hold() || request.has_reopen();
    return Report(console, alert.status(),
                  twice ? LookFirst(request) : kRepeatIsSafe);
  }
  console.out << (settings.json ? JsonLine(*alert) : Standing(*alert));
  for (const std::string& warning : FreeTextWarnings(request)) {
    console.err << "warning: " << warning << "\n";
  }
  return ExitCode::kDone;
}

// A command that does something about one alert, as `work` says it once the
// arguments are parsed. Returned to be given its options.
CLI::App& AddVerb(CLI::App& app, Command& chosen, const std::string& verb,
                  const std::string& help, const Work& work) {
  auto* command = app.add_subcommand(verb, help);
  command->add_option("ID", *work->mutable_alert_id(), "e.g. A-17")->required();
  command->callback([work, &chosen] {
    chosen = Online([work](const Console& console, const Settings& settings,
                           const Connection& connection) {
      return Do(console, settings, connection, *work);
    });
  });
  return *command;
}

// The site's own time may be written, so its zone is asked for first.
ExitCode PutOnHold(const Console& console, const Settings& settings,
                   const Connection& connection, v1::WorkAlertRequest request,
                   const std::string& until) {
  v1::GetAlertRequest which;
  which.set_alert_id(request.alert_id());
  const auto alert = connection.Call(*connection.alerts,
                                     &v1::AlertService::Stub::GetAlert, which);
  if (!alert.ok()) return Report(console, alert.status());
  const auto now = ServiceTime(connection);
  if (!now.ok()) return Report(console, now.status());
  const auto time = ParseWhen("--until", until, *now, Zone(alert->time_zone()));
  if (!time.ok()) return ReportUsage(console, time.status());
  *request.mutable_hold()->mutable_until() = ToProto(*time);
  return Do(console, settings, connection, request);
}

void AddHold(CLI::App& app, Command& chosen) {
  const Work work = std::make_shared<v1::WorkAlertRequest>();
  const auto until = std::make_shared<std::string>();
  CLI::App& command =
      AddVerb(app, chosen, "hold",
              "put an alert off until a time; it comes back by itself", work);
  command
      .add_option("--until", *until,
                  "26h, 3d, \"2027-02-06 09:00\" (site's time) or "
                  "2027-02-06T09:00:00Z")
      ->required();
  command
      .add_option("--reason", *work->mutable_hold()->mutable_reason(), kReason)
      ->required();
  command.callback([work, until, &chosen] {
    chosen =
        Online([work, until](const Console& console, const Settings& settings,
                             const Connection& connection) {
          return PutOnHold(console, settings, connection, *work, *until);
        });
  });
}

// The service alone knows the outcomes, so it also answers where one is left
// out: with the list.
void AddClose(CLI::App& app, Command& chosen) {
  const Work work = std::make_shared<v1::WorkAlertRequest>();
  CLI::App& command =
      AddVerb(app, chosen, "close", "end an alert with what came of it", work);
  v1::Close& close = *work->mutable_close();
  command.add_option("--outcome", *close.mutable_outcome(),
                     "one of the site's outcomes; left out, they are listed");
  command.add_option("--note", *close.mutable_note(),
                     "what was done, up to 1000 characters");
}

}  // namespace

void AddWork(CLI::App& app, Command& chosen) {
  const auto add = [&](const char* verb, const char* help,
                       std::string& (*text)(v1::WorkAlertRequest&),
                       const char* option, const char* option_help) {
    const Work work = std::make_shared<v1::WorkAlertRequest>();
    return AddVerb(app, chosen, verb, help, work)
        .add_option(option, text(*work), option_help);
  };
  using Request = v1::WorkAlertRequest;
  add(
      "receive", "say that you have an alert and will see to it",
      [](Request& r) -> std::string& {
        return *r.mutable_receive()->mutable_note();
      },
      "--note", "needed to take it from somebody; up to 1000 characters");
  add(
      "start", "say that you are at it",
      [](Request& r) -> std::string& {
        return *r.mutable_start()->mutable_note();
      },
      "--note", kNote);
  AddHold(app, chosen);
  add(
      "note", "write down what others should know of an alert",
      [](Request& r) -> std::string& {
        return *r.mutable_note()->mutable_note();
      },
      "TEXT,--note", kNote)
      ->required();
  AddClose(app, chosen);
  add(
      "confirm", "agree, as the second person, that an alert is closed",
      [](Request& r) -> std::string& {
        return *r.mutable_confirm()->mutable_note();
      },
      "--note", kNote);
  add(
      "cancel",
      "end an alert that needs nothing; not one that a person must close",
      [](Request& r) -> std::string& {
        return *r.mutable_cancel()->mutable_reason();
      },
      "--reason", kReason)
      ->required();
  add(
      "reopen", "take up an alert that has ended, as a new one",
      [](Request& r) -> std::string& {
        return *r.mutable_reopen()->mutable_reason();
      },
      "--reason", kReason)
      ->required();
}

}  // namespace turnstone::cli

#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/fetch.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/alert_page.h"

namespace turnstone::cli {
namespace {

ExitCode ShowAlert(const Console& console, const Settings& settings,
                   const Connection& connection, const std::string& id) {
  v1::GetAlertRequest request;
  request.set_alert_id(id);
  const auto alert = connection.Call(
      *connection.alerts, &v1::AlertService::Stub::GetAlert, request);
  if (!alert.ok()) return Report(console, alert.status());
  if (settings.json) {
    console.out << JsonLine(*alert);
    return ExitCode::kDone;
  }
  const auto now = ServiceTime(connection);
  if (!now.ok()) return Report(console, now.status());
  console.out << AlertPage(*alert, *now);
  return ExitCode::kDone;
}

}  // namespace

void AddAlert(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "alert", "one alert: why, what to do, what was known, what happened");
  auto id = std::make_shared<std::string>();
  command->add_option("ID", *id, "the alert, e.g. A-17")->required();
  command->callback([id, &chosen] {
    chosen = Online([id](const Console& console, const Settings& settings,
                         const Connection& connection) {
      return ShowAlert(console, settings, connection, *id);
    });
  });
}

}  // namespace turnstone::cli

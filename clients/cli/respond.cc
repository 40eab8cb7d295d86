#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

ExitCode Show(const Console& console, const Settings& settings,
              const absl::StatusOr<v1::Alert>& alert) {
  if (!alert.ok()) return Report(console, alert.status());
  if (settings.json) {
    console.out << JsonLine(*alert);
  } else {
    console.out << CleanLine(alert->alert_id()) << " is "
                << Word(alert->status()) << "\n";
  }
  return ExitCode::kDone;
}

void AddReceive(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "receive", "say that you have an alert and will see to it");
  auto request = std::make_shared<v1::ReceiveAlertRequest>();
  command->add_option("ID", *request->mutable_alert_id(), "e.g. A-17")
      ->required();
  command->add_option("--note", *request->mutable_note(),
                      "up to 1000 characters");
  command->callback([request, &chosen] {
    chosen = Online([request](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return Show(
          console, settings,
          connection.Call(*connection.alerts,
                          &v1::AlertService::Stub::ReceiveAlert, *request));
    });
  });
}

// The service alone knows the outcomes, so it also answers where one is left
// out: with the list.
void AddClose(CLI::App& app, Command& chosen) {
  auto* command =
      app.add_subcommand("close", "end an alert with what came of it");
  auto request = std::make_shared<v1::CloseAlertRequest>();
  command->add_option("ID", *request->mutable_alert_id(), "e.g. A-17")
      ->required();
  command->add_option("--outcome", *request->mutable_outcome(),
                      "one of the site's outcomes; left out, they are listed");
  command->add_option("--note", *request->mutable_note(),
                      "what was done, up to 1000 characters");
  command->callback([request, &chosen] {
    chosen = Online([request](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return Show(
          console, settings,
          connection.Call(*connection.alerts,
                          &v1::AlertService::Stub::CloseAlert, *request));
    });
  });
}

}  // namespace

void AddRespond(CLI::App& app, Command& chosen) {
  AddReceive(app, chosen);
  AddClose(app, chosen);
}

}  // namespace turnstone::cli

#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/outbox_page.h"
#include "clients/cli/word_option.h"

namespace turnstone::cli {
namespace {

struct OutboxOptions {
  v1::ListOutboxRequest request;
  std::vector<std::string> status;
  int most = 50;
};

ExitCode ShowOutbox(const Console& console, const Settings& settings,
                    const Connection& connection,
                    const OutboxOptions& options) {
  v1::ListOutboxRequest request = options.request;
  request.set_page_size(options.most);
  for (const auto status : ValuesOf<v1::MessageStatus>(options.status)) {
    request.add_status(status);
  }
  const auto outbox = connection.Call(
      *connection.duty, &v1::DutyService::Stub::ListOutbox, request);
  if (!outbox.ok()) return Report(console, outbox.status());
  console.out << (settings.json ? JsonLine(*outbox) : OutboxPage(*outbox));
  return ExitCode::kDone;
}

}  // namespace

void AddOutbox(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "outbox", "messages owed to people, and how the channels fare");
  auto options = std::make_shared<OutboxOptions>();
  command->add_option("--site", *options->request.mutable_site(),
                      "only this site");
  AddWords(*command, "--status", *v1::MessageStatus_descriptor(),
           options->status, "left out: owed, given-up; choose from ");
  command->add_option("--alert", *options->request.mutable_alert_id(),
                      "only of this alert");
  command->add_option("--most", options->most,
                      "how many of them to show, 1 to 500 (default 50)");
  command->callback([options, &chosen] {
    chosen = Online([options](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return ShowOutbox(console, settings, connection, *options);
    });
  });
}

}  // namespace turnstone::cli

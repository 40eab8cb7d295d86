#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/fetch.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/duty_page.h"
#include "clients/cli/when.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

ExitCode ShowOnCall(const Console& console, const Settings& settings,
                    const Connection& connection, v1::GetOnCallRequest request,
                    const std::string& at) {
  if (!at.empty()) {
    const auto now = ServiceTime(connection);
    if (!now.ok()) return Report(console, now.status());
    const auto time = ParseWhen("--at", at, *now);
    if (!time.ok()) return ReportUsage(console, time.status());
    *request.mutable_at() = ToProto(*time);
  }
  const auto on_call = connection.Call(
      *connection.duty, &v1::DutyService::Stub::GetOnCall, request);
  if (!on_call.ok()) return Report(console, on_call.status());
  console.out << (settings.json ? JsonLine(*on_call) : OnCallPage(*on_call));
  return ExitCode::kDone;
}

}  // namespace

void AddOnCall(CLI::App& app, Command& chosen) {
  auto* command =
      app.add_subcommand("oncall", "who is on duty, until when, who is next");
  auto request = std::make_shared<v1::GetOnCallRequest>();
  auto at = std::make_shared<std::string>();
  command->add_option("--site", *request->mutable_site(),
                      "needed where the service has more than one");
  command->add_option("--at", *at,
                      "then instead of now: 26h, 3d or 2027-02-06T09:00:00Z");
  command->callback([request, at, &chosen] {
    chosen =
        Online([request, at](const Console& console, const Settings& settings,
                             const Connection& connection) {
          return ShowOnCall(console, settings, connection, *request, *at);
        });
  });
}

}  // namespace turnstone::cli

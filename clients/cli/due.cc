#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/fetch.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/due_page.h"
#include "clients/cli/when.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

struct DueOptions {
  std::string site;
  std::string by = "24h";
};

ExitCode ShowDue(const Console& console, const Settings& settings,
                 const Connection& connection, const DueOptions& options) {
  const auto now = ServiceTime(connection);
  if (!now.ok()) return Report(console, now.status());
  const auto until = ParseWhen("--by", options.by, *now);
  if (!until.ok()) return ReportUsage(console, until.status());
  v1::ListDueRequest request;
  request.set_site(options.site);
  *request.mutable_until() = ToProto(*until);
  const auto due = connection.Call(*connection.duty,
                                   &v1::DutyService::Stub::ListDue, request);
  if (!due.ok()) return Report(console, due.status());
  console.out << (settings.json ? JsonLine(*due) : DuePage(*due, *until));
  return ExitCode::kDone;
}

}  // namespace

void AddDue(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "due", "what falls due: questions to ask, who is told next");
  auto options = std::make_shared<DueOptions>();
  command->add_option("--site", options->site, "only this site");
  command->add_option("--by", options->by,
                      "how far ahead: 26h, 3d or 2027-02-06T09:00:00Z (default "
                      "24h)");
  command->callback([options, &chosen] {
    chosen = Online([options](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return ShowDue(console, settings, connection, *options);
    });
  });
}

}  // namespace turnstone::cli

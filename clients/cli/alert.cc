#include <absl/strings/str_cat.h>

#include <memory>
#include <optional>

#include "clients/cli/commands.h"
#include "clients/cli/fetch.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/why_page.h"
#include "clients/cli/word_option.h"

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

struct AlertOptions {
  std::string id;
  std::string why;     // empty: the alert itself
  int occurrence = 1;  // from 1
};

std::optional<Depth> DepthOf(const std::string& word) {
  if (word == "sentence") return Depth::kSentence;
  if (word == "rule") return Depth::kRule;
  if (word == "all") return Depth::kAll;
  return std::nullopt;
}

ExitCode ShowWhy(const Console& console, const Settings& settings,
                 const Connection& connection, const AlertOptions& options) {
  const std::optional<Depth> depth = DepthOf(options.why);
  if (!depth) {
    return ReportUsage(
        console, absl::InvalidArgumentError(
                     absl::StrCat("--why: no such depth \"", options.why,
                                  "\"; write --why, --why=rule or --why=all")));
  }
  v1::ExplainAlertRequest request;
  request.set_alert_id(options.id);
  request.set_occurrence(options.occurrence - 1);
  const auto explanation = connection.Call(
      *connection.alerts, &v1::AlertService::Stub::ExplainAlert, request);
  if (!explanation.ok()) return Report(console, explanation.status());
  console.out << (settings.json ? JsonLine(*explanation)
                                : WhyPage(*explanation, *depth));
  return ExitCode::kDone;
}

}  // namespace

void AddAlert(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "alert", "one alert: why, what to do, what was known, what happened");
  auto options = std::make_shared<AlertOptions>();
  command->add_option("ID", options->id, "the alert, e.g. A-17")->required();
  auto* why = command->add_flag(
      "--why{sentence}", options->why,
      "only why it exists: in a sentence; --why=rule: its rule, condition by "
      "condition; --why=all: and every other rule");
  command
      ->add_option("--occurrence", options->occurrence,
                   "which of its reasons, from 1 (default 1); with --why")
      ->check(AtLeast(1))
      ->needs(why);
  command->callback([options, &chosen] {
    chosen = Online([options](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return options->why.empty()
                 ? ShowAlert(console, settings, connection, options->id)
                 : ShowWhy(console, settings, connection, *options);
    });
  });
}

}  // namespace turnstone::cli

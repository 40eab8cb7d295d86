#include "clients/cli/run.h"

#include <absl/strings/str_cat.h>

#include <CLI/CLI.hpp>

#include "clients/cli/commands.h"
#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"

namespace turnstone::cli {
namespace {

void AddSettings(CLI::App& app, Settings& settings) {
  app.add_option("--server", settings.server,
                 "where the service is (default 127.0.0.1:7411)")
      ->envname("TURNSTONE_SERVER");
  app.add_option("--as", settings.as,
                 "who is calling: NAME,ROLE, e.g. r.sorrel,clinician")
      ->envname("TURNSTONE_AS");
  app.add_flag("--json", settings.json, "one JSON object a line, for programs");
}

void AddCommands(CLI::App& app, Command& chosen) {
  AddSubmit(app, chosen);
  AddAlerts(app, chosen);
  AddAlert(app, chosen);
  AddRespond(app, chosen);
  AddParticipant(app, chosen);
  AddFollow(app, chosen);
  AddRules(app, chosen);
  AddMeasure(app, chosen);
  AddClock(app, chosen);
}

int Parsed(const Command& chosen, const Console& console,
           const Settings& settings) {
  const ExitCode code = chosen(console, settings);
  console.out.flush();
  // Whoever reads the output must not take a part for the whole.
  if (code == ExitCode::kDone && !console.out) {
    console.err << "turnstone: the output could not be written\n";
    return static_cast<int>(ExitCode::kUnknown);
  }
  return static_cast<int>(code);
}

int NotParsed(const CLI::App& app, const CLI::ParseError& error,
              const Console& console) {
  if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success)) {
    return app.exit(error, console.out, console.err);
  }
  console.err << "turnstone: " << CleanBlock(error.what())
              << "\nturnstone --help, or turnstone COMMAND --help, says what "
                 "to write\n";
  return static_cast<int>(ExitCode::kUsage);
}

}  // namespace

int Run(const std::vector<std::string>& arguments, const Console& console) {
  CLI::App app("The net under a home-visiting team: alerts, and who has them.",
               "turnstone");
  app.fallthrough();
  app.require_subcommand(1);
  app.footer(absl::StrCat(
      "\n", Wrap(kCaution, 0),
      "\nExit codes: 0 done, 1 refused, 2 not written as it must be, 3 not "
      "reachable or\nresult not known (repeating the same command is "
      "safe).\n"));
  Settings settings;
  Command chosen;
  AddSettings(app, settings);
  AddCommands(app, chosen);
  try {
    // CLI11 takes them from the back.
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
  } catch (const CLI::ParseError& error) {
    return NotParsed(app, error, console);
  }
  return Parsed(chosen, console, settings);
}

}  // namespace turnstone::cli

#include "clients/cli/run.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <CLI/CLI.hpp>

#include "clients/cli/commands.h"
#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "clients/cli/terminal_gate.h"

namespace turnstone::cli {
namespace {

void AddSettings(CLI::App& app, Settings& settings) {
  app.add_option("--server", settings.server,
                 "where the service is (default 127.0.0.1:7411)")
      ->envname("TURNSTONE_SERVER");
  app.add_option(
         "--as", settings.as,
         "who is calling: NAME,ROLE, e.g. r.sorrel,clinician; needed with "
         "--plain, or if you have different roles at different sites")
      ->envname("TURNSTONE_AS");
  app.add_option("--ca", settings.way.ca,
                 "PEM file with the certificates that the service's is to be "
                 "judged by")
      ->envname("TURNSTONE_CA");
  app.add_option("--certificate", settings.way.certificate,
                 "PEM file with your certificate and those above it")
      ->envname("TURNSTONE_CERTIFICATE");
  app.add_option("--key", settings.way.key,
                 "PEM file with your private key; if not given, it is in "
                 "--certificate")
      ->envname("TURNSTONE_KEY");
  app.add_flag("--plain", settings.way.plain,
               "the service on this machine runs with --plain: no encryption, "
               "and --as is believed")
      ->envname("TURNSTONE_PLAIN");
  app.add_flag("--json", settings.json, "one JSON object a line, for programs");
}

void AddCommands(CLI::App& app, Command& chosen) {
  AddSubmit(app, chosen);
  AddAlerts(app, chosen);
  AddAlert(app, chosen);
  AddWork(app, chosen);
  AddParticipant(app, chosen);
  AddFollow(app, chosen);
  AddHandover(app, chosen);
  AddOnCall(app, chosen);
  AddDue(app, chosen);
  AddOutbox(app, chosen);
  AddRules(app, chosen);
  AddMeasure(app, chosen);
  AddBurden(app, chosen);
  AddBackup(app, chosen);
  AddErase(app, chosen);
  AddAudit(app, chosen);
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

bool Is(const CLI::ParseError& error, CLI::ExitCodes code) {
  return error.get_exit_code() == static_cast<int>(code);
}

// CLI11 speaks of "subcommands", names no wrong one, and turns words round.
std::string WhatIsWrong(const CLI::App& app, const CLI::ParseError& error) {
  const std::vector<std::string> rest = app.remaining(/*recurse=*/true);
  if (Is(error, CLI::ExitCodes::ExtrasError)) {
    return absl::StrCat("not expected: ", absl::StrJoin(rest, " "));
  }
  if (!Is(error, CLI::ExitCodes::RequiredError) ||
      !app.get_subcommands().empty()) {
    return error.what();
  }
  return rest.empty() ? "a command is missing"
                      : absl::StrCat("there is no command ", rest.front());
}

int NotParsed(const CLI::App& app, const CLI::ParseError& error,
              const Console& console) {
  if (Is(error, CLI::ExitCodes::Success)) {
    return app.exit(error, console.out, console.err);
  }
  console.err << "turnstone: " << CleanBlock(WhatIsWrong(app, error))
              << "\nturnstone --help, or turnstone COMMAND --help, says what "
                 "to write\n";
  return static_cast<int>(ExitCode::kUsage);
}

}  // namespace

int Run(const std::vector<std::string>& arguments, const Console& given) {
  TerminalGate out_gate(given.out);
  TerminalGate err_gate(given.err);
  std::ostream out(&out_gate);
  std::ostream err(&err_gate);
  const Console console{
      given.in,      out,          err,      given.err_is_terminal,
      given.sleeper, given.window, given.now};
  CLI::App app("The net under a home-visiting team: alerts, and who has them.",
               "turnstone");
  app.fallthrough();
  app.require_subcommand(1);
  app.footer(absl::StrCat(
      "\n", Wrap(kCaution, 0),
      "\nExit codes: 0 done, 1 refused, 2 not written as it must be, 3 not "
      "reachable or\nresult not known (the message says whether to repeat "
      "it).\n"));
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

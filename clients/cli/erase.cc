#include <iostream>
#include <memory>
#include <string>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/operations_page.h"

namespace turnstone::cli {
namespace {

struct EraseOptions {
  v1::EraseParticipantRequest request;
  bool yes = false;
};

// Whether whoever sits there writes the id once more.
bool WritesItAgain(const Console& console, const std::string& participant) {
  console.err << "This cannot be undone. To go on, write the participant's id "
                 "once more: "
              << std::flush;
  std::string written;
  return std::getline(console.in, written) && written == participant;
}

ExitCode Erase(const Console& console, const Settings& settings,
               const Connection& connection, const EraseOptions& options) {
  if (!options.yes && !WritesItAgain(console, options.request.participant())) {
    console.err << "turnstone: nothing was erased: that is not the same id\n";
    return ExitCode::kRefused;
  }
  const auto erasure = connection.Call(
      *connection.operations, &v1::OperationsService::Stub::EraseParticipant,
      options.request);
  if (!erasure.ok()) {
    return Report(console, erasure.status(),
                  "The result is not known. Repeat the command: if it says "
                  "that nothing is known of\nthe participant, it was done.");
  }
  console.out << (settings.json ? JsonLine(*erasure) : ErasurePage(*erasure));
  return ExitCode::kDone;
}

}  // namespace

void AddErase(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "erase", "take a participant out of the record, for good");
  auto options = std::make_shared<EraseOptions>();
  command
      ->add_option("participant", *options->request.mutable_participant(),
                   "the participant's id")
      ->required();
  command->add_option("--site", *options->request.mutable_site(),
                      "needed where the service has more than one");
  command
      ->add_option("--reason", *options->request.mutable_reason(),
                   "why, up to 200 characters, without anything that "
                   "identifies the participant: it stays on record")
      ->required();
  command->add_flag("--yes", options->yes,
                    "do not ask for the id once more (for scripts)");
  command->callback([options, &chosen] {
    chosen = Online([options](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return Erase(console, settings, connection, *options);
    });
  });
}

}  // namespace turnstone::cli

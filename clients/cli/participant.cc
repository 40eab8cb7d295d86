#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/participant_page.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {
namespace {

ExitCode ShowParticipant(const Console& console, const Settings& settings,
                         const Connection& connection,
                         const v1::GetParticipantRequest& request) {
  const auto view =
      connection.Call(*connection.participants,
                      &v1::ParticipantService::Stub::GetParticipant, request);
  if (!view.ok()) return Report(console, view.status());
  console.out << (settings.json ? JsonLine(*view) : ParticipantPage(*view));
  return ExitCode::kDone;
}

}  // namespace

void AddParticipant(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "participant", "one participant: alerts, what is due, scores, timeline");
  auto request = std::make_shared<v1::GetParticipantRequest>();
  command->add_option("ID", *request->mutable_participant(), "the participant")
      ->required();
  command->add_option("--site", *request->mutable_site(),
                      "needed where the service has more than one");
  command->callback([request, &chosen] {
    chosen = Online([request](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return ShowParticipant(console, settings, connection, *request);
    });
  });
}

}  // namespace turnstone::cli

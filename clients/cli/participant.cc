#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/disclosures_page.h"
#include "clients/cli/render/participant_page.h"
#include "clients/cli/render/why_not_page.h"
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

ExitCode ShowWhyNot(const Console& console, const Settings& settings,
                    const Connection& connection,
                    const v1::GetParticipantRequest& whom,
                    const std::string& rule) {
  v1::ExplainRuleRequest request;
  request.set_site(whom.site());
  request.set_participant(whom.participant());
  request.set_rule(rule);
  const auto explanation =
      connection.Call(*connection.participants,
                      &v1::ParticipantService::Stub::ExplainRule, request);
  if (!explanation.ok()) return Report(console, explanation.status());
  console.out << (settings.json ? JsonLine(*explanation)
                                : WhyNotPage(*explanation));
  return ExitCode::kDone;
}

ExitCode ShowDisclosures(const Console& console, const Settings& settings,
                         const Connection& connection,
                         const v1::GetParticipantRequest& whom) {
  v1::ListDisclosuresRequest request;
  request.set_site(whom.site());
  request.set_participant(whom.participant());
  const auto disclosures = connection.Call(
      *connection.audit, &v1::AuditService::Stub::ListDisclosures, request);
  if (!disclosures.ok()) return Report(console, disclosures.status());
  console.out << (settings.json ? JsonLine(*disclosures)
                                : DisclosuresPage(*disclosures));
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
  auto rule = std::make_shared<std::string>();
  command->add_option("--why-not", *rule,
                      "only what kept this rule silent, e.g. "
                      "score-above-range");
  auto disclosures = std::make_shared<bool>(false);
  command->add_flag("--disclosures", *disclosures,
                    "only who looked at them, or worked on their alerts, and "
                    "when");
  command->callback([request, rule, disclosures, &chosen] {
    chosen = Online([request, rule, disclosures](const Console& console,
                                                 const Settings& settings,
                                                 const Connection& connection) {
      if (*disclosures) {
        return ShowDisclosures(console, settings, connection, *request);
      }
      return rule->empty()
                 ? ShowParticipant(console, settings, connection, *request)
                 : ShowWhyNot(console, settings, connection, *request, *rule);
    });
  });
}

}  // namespace turnstone::cli

#include <absl/strings/str_cat.h>

#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/duty_page.h"

namespace turnstone::cli {
namespace {

struct HandoverOptions {
  std::string site;
  std::string role;
  std::string to;
  std::string note;

  // As they are to be written again.
  [[nodiscard]] std::string Where() const {
    return CleanLine(absl::StrCat(site.empty() ? "" : " --site " + site,
                                  role.empty() ? "" : " --role " + role));
  }
};

using Answered = absl::StatusOr<v1::Handover>;

template <typename Request>
Request About(const HandoverOptions& options) {
  Request request;
  request.set_site(options.site);
  request.set_role(options.role);
  return request;
}

// Runs `call` and shows what `page` makes of the answer.
template <typename Call, typename Render>
Command Shown(Call call, Render page) {
  return Online([call, page](const Console& console, const Settings& settings,
                             const Connection& connection) {
    const Answered handover = call(connection);
    if (!handover.ok()) return Report(console, handover.status());
    console.out << (settings.json ? JsonLine(*handover) : page(*handover));
    return ExitCode::kDone;
  });
}

using Options = std::shared_ptr<HandoverOptions>;

Command Show(const Options& options) {
  return Shown(
      [options](const Connection& connection) {
        return connection.Call(*connection.duty,
                               &v1::DutyService::Stub::GetHandover,
                               About<v1::GetHandoverRequest>(*options));
      },
      [options](const v1::Handover& handover) {
        return HandoverPage(handover, options->Where());
      });
}

Command Give(const Options& options) {
  return Shown(
      [options](const Connection& connection) {
        auto request = About<v1::OfferHandoverRequest>(*options);
        request.set_to(options->to);
        request.set_note(options->note);
        return connection.Call(*connection.duty,
                               &v1::DutyService::Stub::OfferHandover, request);
      },
      [options](const v1::Handover& handover) {
        return OfferedText(handover, options->Where());
      });
}

Command Answer(const Options& options, bool yes) {
  return Shown(
      [options, yes](const Connection& connection) {
        auto request = About<v1::AnswerHandoverRequest>(*options);
        request.set_yes(yes);
        return connection.Call(*connection.duty,
                               &v1::DutyService::Stub::AnswerHandover, request);
      },
      [options, yes](const v1::Handover& handover) {
        return yes ? TakenText(handover, options->Where())
                   : DeclinedText(handover);
      });
}

}  // namespace

void AddHandover(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "handover", "who is on duty, what is open; give it over, or take it");
  command->require_subcommand(0, 1);
  command->fallthrough();
  const Options options = std::make_shared<HandoverOptions>();
  command->add_option("--site", options->site,
                      "needed where the service has more than one");
  command->add_option("--role", options->role,
                      "needed where more than one role has a rota");
  auto* give = command->add_subcommand(
      "give",
      "offer your duty to another; nothing changes before they say yes");
  give->add_option("--to", options->to, "who is to take it, e.g. t.linnet")
      ->required();
  give->add_option("--note", options->note,
                   "what they should know, up to 1000 characters");
  auto* take = command->add_subcommand(
      "take", "say yes: you are on duty and have the other's open alerts");
  auto* decline = command->add_subcommand("decline", "say no");
  command->callback([give, take, decline, options, &chosen] {
    if (give->parsed()) {
      chosen = Give(options);
    } else if (take->parsed() || decline->parsed()) {
      chosen = Answer(options, take->parsed());
    } else {
      chosen = Show(options);
    }
  });
}

}  // namespace turnstone::cli

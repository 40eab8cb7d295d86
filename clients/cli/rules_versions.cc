#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/shadow_page.h"
#include "clients/cli/render/version_page.h"

namespace turnstone::cli {
namespace {

// The proof is made before the answer.
constexpr absl::Duration kActivateDeadline = absl::Minutes(5);

struct VersionOptions {
  std::string digest;
  std::string because;
  bool stop = false;
  std::string site;
};
using Options = std::shared_ptr<VersionOptions>;

template <typename Answered, typename Render>
ExitCode Show(const Console& console, const Settings& settings,
              const absl::StatusOr<Answered>& answered, Render page) {
  if (!answered.ok()) return Report(console, answered.status());
  console.out << (settings.json ? JsonLine(*answered) : page(*answered));
  return ExitCode::kDone;
}

template <typename Request>
Request About(const VersionOptions& options) {
  Request request;
  request.set_digest(options.digest);
  request.set_reason(options.because);
  return request;
}

ExitCode List(const Console& console, const Settings& settings,
              const Connection& connection) {
  return Show(
      console, settings,
      connection.Call(*connection.rules, &v1::RuleService::Stub::ListVersions,
                      v1::ListVersionsRequest()),
      &VersionsPage);
}

Command Activate(const Options& options) {
  return Online([options](const Console& console, const Settings& settings,
                          const Connection& connection) {
    if (console.err_is_terminal) {
      console.err << "proving it first, up to a minute ..." << std::endl;
    }
    return Show(console, settings,
                connection.Call(*connection.rules,
                                &v1::RuleService::Stub::ActivateVersion,
                                About<v1::ActivateVersionRequest>(*options),
                                kActivateDeadline),
                &ActivatedText);
  });
}

Command Confirm(const Options& options) {
  return Online([options](const Console& console, const Settings& settings,
                          const Connection& connection) {
    return Show(console, settings,
                connection.Call(*connection.rules,
                                &v1::RuleService::Stub::ConfirmVersion,
                                About<v1::ConfirmVersionRequest>(*options)),
                &ActivatedText);
  });
}

// Every page as one.
absl::StatusOr<v1::ShadowPage> FetchShadow(const Connection& connection,
                                           const std::string& site) {
  v1::ListShadowRequest request;
  request.set_site(site);
  v1::ShadowPage all;
  while (true) {
    absl::StatusOr<v1::ShadowPage> page = connection.Call(
        *connection.rules, &v1::RuleService::Stub::ListShadow, request);
    if (!page.ok()) return page.status();
    const bool more = page->more() && page->verdict_size() > 0;
    if (more) {
      request.set_after_position(
          page->verdict(page->verdict_size() - 1).position());
    }
    if (all.has_version()) page->clear_version();
    all.MergeFrom(*page);
    all.set_more(false);
    if (!more) return all;
  }
}

Command Shadow(const Options& options) {
  return Online([options](const Console& console, const Settings& settings,
                          const Connection& connection) {
    if (options->digest.empty()) {
      return Show(console, settings, FetchShadow(connection, options->site),
                  &ShadowPageText);
    }
    auto request = About<v1::ShadowVersionRequest>(*options);
    request.set_stop(options->stop);
    return Show(console, settings,
                connection.Call(*connection.rules,
                                &v1::RuleService::Stub::ShadowVersion, request),
                &ShadowedText);
  });
}

CLI::App* AddWithReason(CLI::App& rules, const std::string& name,
                        const std::string& what, const Options& options) {
  auto* command = rules.add_subcommand(name, what);
  command->add_option("DIGEST", options->digest,
                      "which version: proposed, or as turnstone rules versions "
                      "names it");
  command->add_option("--because", options->because,
                      "why, for the record, up to 1000 characters");
  return command;
}

}  // namespace

void AddRulesVersions(CLI::App& rules, Command& chosen) {
  rules
      .add_subcommand("versions",
                      "versions in the service: in force, proposed, past")
      ->callback([&chosen] { chosen = Online(&List); });

  const Options activate = std::make_shared<VersionOptions>();
  auto* command = AddWithReason(
      rules, "activate", "put a version in force, after a proof", activate);
  command->callback([activate, &chosen] { chosen = Activate(activate); });

  const Options confirm = std::make_shared<VersionOptions>();
  command = AddWithReason(
      rules, "confirm",
      "agree, as the second person, to a version with fewer safety alerts",
      confirm);
  command->callback([confirm, &chosen] { chosen = Confirm(confirm); });

  const Options shadow = std::make_shared<VersionOptions>();
  command = AddWithReason(
      rules, "shadow",
      "run a version beside the one in force; without DIGEST, what it found",
      shadow);
  command->add_flag("--stop", shadow->stop, "take it out of shadow");
  command->add_option("--site", shadow->site, "what it found at this site");
  command->callback([shadow, &chosen] { chosen = Shadow(shadow); });
}

}  // namespace turnstone::cli

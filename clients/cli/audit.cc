#include <unistd.h>

#include <filesystem>
#include <memory>
#include <vector>

#include "clients/cli/commands.h"

namespace turnstone::cli {
namespace {

struct AuditOptions {
  std::string data;
  std::string checkpoints;  // empty: none are at hand
  std::string key;
};

// The service's own program, which alone can read its files: beside this one,
// or where the shell looks for programs.
std::string Turnstoned() {
  std::error_code error;
  const auto beside =
      std::filesystem::read_symlink("/proc/self/exe", error).parent_path() /
      "turnstoned";
  return std::filesystem::exists(beside, error) ? beside.string()
                                                : "turnstoned";
}

// Becomes that program.
ExitCode LookOverAudit(const Console& console, const AuditOptions& options) {
  std::vector<std::string> words = {Turnstoned(), "audit-verify", "--data",
                                    options.data};
  if (!options.checkpoints.empty()) {
    words.insert(words.end(),
                 {"--checkpoints", options.checkpoints, "--key", options.key});
  }
  std::vector<char*> arguments;
  arguments.reserve(words.size() + 1);
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  execvp(arguments[0], arguments.data());
  return ReportUsage(
      console, absl::NotFoundError("the program turnstoned is not on this "
                                   "machine; run this where the data are"));
}

}  // namespace

void AddAudit(CLI::App& app, Command& chosen) {
  auto* audit = app.add_subcommand("audit", "the record of who did what");
  audit->require_subcommand(1);
  auto* verify = audit->add_subcommand(
      "verify",
      "whether no record was taken out, changed or moved, while the "
      "service is not running");
  auto options = std::make_shared<AuditOptions>();
  verify->add_option("DATA", options->data, "the service's folder")->required();
  auto* checkpoints = verify->add_option(
      "--checkpoints", options->checkpoints,
      "signed checkpoints, as kept elsewhere: also finds an end cut off");
  auto* key = verify->add_option("--key", options->key,
                                 "the public key they are signed by");
  checkpoints->needs(key);
  key->needs(checkpoints);
  verify->callback([options, &chosen] {
    chosen = [options](const Console& console, const Settings& /*settings*/) {
      return LookOverAudit(console, *options);
    };
  });
}

}  // namespace turnstone::cli

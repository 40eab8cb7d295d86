#include <absl/strings/str_cat.h>

#include <algorithm>
#include <fstream>
#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/config_files.h"
#include "clients/cli/prove_sites.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/findings.h"
#include "clients/cli/render/proof_page.h"
#include "rules/check/load.h"

namespace turnstone::cli {
namespace {

struct ProveOptions {
  std::vector<std::string> paths;
  std::string save;  // empty: nowhere
};

bool AllHold(const std::vector<SiteProofs>& all) {
  return std::all_of(all.begin(), all.end(), [](const SiteProofs& each) {
    return std::all_of(
        each.proofs.begin(), each.proofs.end(),
        [](const Proof& proof) { return proof.result == ProofResult::kHolds; });
  });
}

absl::Status Save(const std::string& path, const std::string& lines) {
  std::ofstream file(path);
  file << lines;
  file.close();
  if (file) return absl::OkStatus();
  return absl::InvalidArgumentError(
      absl::StrCat(CleanLine(path), " cannot be written; choose another file"));
}

ExitCode ProveRules(const Console& console, const Settings& settings,
                    const ProveOptions& options) {
  const auto files = ReadConfigFiles(options.paths);
  if (!files.ok()) return ReportUsage(console, files.status());
  const LoadResult loaded =
      LoadConfiguration(files->text, {.complete = files->complete});
  console.err << FindingsText(loaded.findings, files->text, settings.json);
  if (!loaded.configuration.has_value()) {
    console.err << "refused: mend what is named above\n";
    return ExitCode::kRefused;
  }
  const auto all = ProveAll(console, *loaded.configuration);
  if (!all.ok()) return ReportUsage(console, all.status());
  if (settings.json) {
    for (const SiteProofs& each : *all) console.out << ProofJson(each);
  } else {
    console.out << ProofPage(*all);
  }
  std::ostream& where = settings.json ? console.err : console.out;
  where << ProofSummary(*all) << "\n";
  if (!options.save.empty()) {
    const absl::Status saved = Save(options.save, CounterexampleLines(*all));
    if (!saved.ok()) return ReportUsage(console, saved);
  }
  return AllHold(*all) ? ExitCode::kDone : ExitCode::kRefused;
}

}  // namespace

void AddRulesProve(CLI::App& rules, Command& chosen) {
  auto* prove = rules.add_subcommand(
      "prove", "go through every case of what must hold of the rules");
  auto options = std::make_shared<ProveOptions>();
  prove
      ->add_option("PATH", options->paths,
                   "files, or folders with instruments/, packs/, properties/ "
                   "or sites/")
      ->required();
  prove->add_option("--save", options->save,
                    "write the events of cases that fail to this file, for "
                    "turnstone submit");
  prove->callback([options, &chosen] {
    chosen = [options](const Console& console, const Settings& settings) {
      return ProveRules(console, settings, *options);
    };
  });
}

}  // namespace turnstone::cli

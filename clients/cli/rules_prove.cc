#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

#include <algorithm>
#include <fstream>
#include <memory>
#include <utility>

#include "clients/cli/commands.h"
#include "clients/cli/config_files.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/findings.h"
#include "clients/cli/render/proof_page.h"
#include "rules/check/load.h"
#include "rules/check/reliable_changes.h"
#include "rules/examples/example_setup.h"
#include "rules/prove/prove.h"

namespace turnstone::cli {
namespace {

struct ProveOptions {
  std::vector<std::string> paths;
  std::string save;  // empty: nowhere
};

std::vector<v1::PropertySet> SetsOf(const v1::Configuration& configuration) {
  return {configuration.property_set().begin(),
          configuration.property_set().end()};
}

// Without what can only be said of a site's ladders.
std::vector<v1::PropertySet> SetsWithoutSite(
    const v1::Configuration& configuration) {
  std::vector<v1::PropertySet> sets = SetsOf(configuration);
  for (v1::PropertySet& set : sets) {
    auto& properties = *set.mutable_property();
    properties.erase(std::remove_if(properties.begin(), properties.end(),
                                    [](const v1::Property& property) {
                                      return property.has_every_open_alert();
                                    }),
                     properties.end());
  }
  return sets;
}

SiteProofs ProveSite(const Console& console, std::string of, const Site& site,
                     const Catalogue& catalogue,
                     const std::vector<v1::PropertySet>& sets) {
  SiteProofs result;
  result.of = std::move(of);
  std::vector<absl::Time> begun;
  const auto progress = [&](const std::string& id) {
    begun.push_back(console.now());
    if (!console.err_is_terminal) return;
    console.err << "going through " << CleanLine(id) << " ..." << std::endl;
  };
  result.proofs = Prove(site, catalogue, sets, console.now(), progress);
  begun.push_back(console.now());
  for (size_t i = 0; i + 1 < begun.size(); ++i) {
    result.seconds.push_back(absl::ToDoubleSeconds(begun[i + 1] - begun[i]));
  }
  return result;
}

std::string InVersion(const v1::RuleSet& rules) {
  return absl::StrCat("rule set ", rules.id(), " version ", rules.version());
}

absl::StatusOr<std::vector<SiteProofs>> ProveSites(
    const Console& console, const v1::Configuration& configuration) {
  const Setup setup(configuration, "");
  std::vector<SiteProofs> all;
  for (const auto& [id, site] : setup.sites()) {
    if (site.rules.rule().empty()) {
      return absl::NotFoundError(
          absl::StrCat("the rule set of ", CleanLine(id), ", ",
                       CleanLine(site.config.rule_set()),
                       ", is not among the files; add the folder with packs/"));
    }
    all.push_back(ProveSite(console,
                            absl::StrCat(id, ", ", InVersion(site.rules)), site,
                            setup.catalogue(), SetsOf(configuration)));
  }
  return all;
}

std::vector<SiteProofs> ProveRuleSets(const Console& console,
                                      const v1::Configuration& configuration) {
  std::vector<const v1::Instrument*> instruments;
  for (const v1::Instrument& each : configuration.instrument()) {
    instruments.push_back(&each);
  }
  std::vector<SiteProofs> all;
  for (const v1::RuleSet& rules : configuration.rule_set()) {
    const Setup setup = SetUpExamples(rules, instruments);
    all.push_back(ProveSite(
        console,
        absl::StrCat(InVersion(rules),
                     ", numbers of its own (open alerts are left out: they "
                     "need a site)"),
        ExampleSite(setup), setup.catalogue(), SetsWithoutSite(configuration)));
  }
  return all;
}

// Whether there is anything to prove, and everything it takes.
absl::Status CanProve(const v1::Configuration& configuration) {
  const auto& rule_sets = configuration.rule_set();
  if (rule_sets.empty()) {
    return absl::NotFoundError(
        "there is no rule set among the files; add the folder with packs/");
  }
  if (configuration.property_set().empty() &&
      std::all_of(
          rule_sets.begin(), rule_sets.end(),
          [](const v1::RuleSet& rules) { return rules.division().empty(); })) {
    return absl::NotFoundError(
        "there is no property among the files; add the folder with "
        "properties/");
  }
  return NumbersAreKnown(configuration);
}

absl::StatusOr<std::vector<SiteProofs>> ProveAll(
    const Console& console, const v1::Configuration& configuration) {
  const absl::Status can = CanProve(configuration);
  if (!can.ok()) return can;
  if (!configuration.site().empty()) return ProveSites(console, configuration);
  return ProveRuleSets(console, configuration);
}

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

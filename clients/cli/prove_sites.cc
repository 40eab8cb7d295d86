#include "clients/cli/prove_sites.h"

#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

#include <algorithm>
#include <utility>

#include "clients/cli/render/clean.h"
#include "rules/check/reliable_changes.h"
#include "rules/examples/example_setup.h"
#include "rules/prove/prove.h"

namespace turnstone::cli {
namespace {

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

}  // namespace

absl::StatusOr<std::vector<SiteProofs>> ProveAll(
    const Console& console, const v1::Configuration& configuration) {
  const absl::Status can = CanProve(configuration);
  if (!can.ok()) return can;
  if (!configuration.site().empty()) return ProveSites(console, configuration);
  return ProveRuleSets(console, configuration);
}

}  // namespace turnstone::cli

#include "clients/cli/diff_sites.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/strip.h>

#include <set>
#include <utility>

#include "clients/cli/render/clean.h"
#include "rules/check/reliable_changes.h"
#include "rules/diff/fewer_safety.h"
#include "rules/examples/example_setup.h"

namespace turnstone::cli {
namespace {

template <typename Named>
std::set<std::string> IdsOf(
    const google::protobuf::RepeatedPtrField<Named>& all) {
  std::set<std::string> ids;
  for (const Named& each : all) ids.insert(each.id());
  return ids;
}

std::set<std::string> InBoth(const std::set<std::string>& before,
                             const std::set<std::string>& after) {
  std::set<std::string> both;
  for (const std::string& id : before) {
    if (after.count(id) > 0) both.insert(id);
  }
  return both;
}

void NoteAlone(const std::string& noun, const std::set<std::string>& before,
               const std::set<std::string>& after,
               std::vector<std::string>& lines) {
  for (const std::string& id : before) {
    if (after.count(id) > 0) continue;
    lines.push_back(absl::StrCat("the ", noun, " ", id, " is removed"));
  }
  for (const std::string& id : after) {
    if (before.count(id) > 0) continue;
    lines.push_back(absl::StrCat("the ", noun, " ", id, " is added"));
  }
}

// REQUIRES: both setups have the site.
RulesDifference DiffSite(std::string of, const std::string& id,
                         const Setup& before, const Setup& after) {
  const Site& was = *before.FindSite(id);
  const Site& now = *after.FindSite(id);
  RulesDifference difference;
  difference.of = std::move(of);
  for (const std::string& why : FewerSafety(id, before, after)) {
    difference.fewer_safety.emplace_back(
        absl::StripPrefix(why, absl::StrCat(id, ": ")));
  }
  difference.numbers = CompareNumbers(was, now);
  difference.rules =
      CompareRules(was, before.catalogue(), now, after.catalogue());
  difference.around = CompareRuleSets(was.rules, now.rules);
  return difference;
}

Setup OwnNumbers(const v1::Configuration& configuration,
                 const std::string& rule_set) {
  std::vector<const v1::Instrument*> instruments;
  for (const v1::Instrument& each : configuration.instrument()) {
    instruments.push_back(&each);
  }
  v1::RuleSet rules;
  for (const v1::RuleSet& each : configuration.rule_set()) {
    if (each.id() == rule_set) rules = each;
  }
  return SetUpExamples(rules, instruments);
}

RulesDifference DiffOwnNumbers(const std::string& rule_set,
                               const v1::Configuration& before,
                               const v1::Configuration& after) {
  const Setup was = OwnNumbers(before, rule_set);
  return DiffSite(absl::StrCat("rule set ", rule_set, ", numbers of its own"),
                  ExampleSite(was).config.id(), was,
                  OwnNumbers(after, rule_set));
}

// Whether there is everything it takes to compare.
absl::Status CanDiff(const v1::Configuration& configuration) {
  const std::set<std::string> rule_sets = IdsOf(configuration.rule_set());
  for (const v1::SiteConfig& site : configuration.site()) {
    if (rule_sets.count(site.rule_set()) > 0) continue;
    return absl::NotFoundError(
        absl::StrCat("the rule set of ", CleanLine(site.id()), ", ",
                     CleanLine(site.rule_set()),
                     ", is not among the files; add the folder with packs/"));
  }
  return NumbersAreKnown(configuration);
}

}  // namespace

absl::StatusOr<std::vector<RulesDifference>> DiffSites(
    const v1::Configuration& before, const v1::Configuration& after,
    const std::string& site) {
  for (const v1::Configuration* side : {&before, &after}) {
    const absl::Status can = CanDiff(*side);
    if (!can.ok()) return can;
  }
  const auto old_sites = IdsOf(before.site());
  const auto new_sites = IdsOf(after.site());
  std::set<std::string> sites = InBoth(old_sites, new_sites);
  if (!site.empty() && sites.count(site) == 0) {
    return absl::NotFoundError(
        absl::StrCat("there is no site ", CleanLine(site),
                     " in both; write the id of a site that is, or leave "
                     "--site out"));
  }
  if (!site.empty()) sites = {site};
  std::vector<RulesDifference> all;
  const Setup was(before, "");
  const Setup now(after, "");
  std::set<std::string> used;
  for (const std::string& id : sites) {
    used.insert(was.FindSite(id)->config.rule_set());
    used.insert(now.FindSite(id)->config.rule_set());
    all.push_back(DiffSite(absl::StrCat("site ", id), id, was, now));
  }
  const auto old_sets = IdsOf(before.rule_set());
  const auto new_sets = IdsOf(after.rule_set());
  for (const std::string& id : InBoth(old_sets, new_sets)) {
    if (!site.empty() || used.count(id) > 0) continue;
    all.push_back(DiffOwnNumbers(id, before, after));
  }
  RulesDifference shared;
  shared.of = kEverySite;
  shared.around = CompareShared(before, after);
  NoteAlone("rule set", old_sets, new_sets, shared.around);
  NoteAlone("site", old_sites, new_sites, shared.around);
  all.push_back(std::move(shared));
  return all;
}

}  // namespace turnstone::cli

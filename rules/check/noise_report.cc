#include "rules/check/noise_report.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <set>

#include "rules/check/change_leaves.h"
#include "rules/engine/condition_words.h"
#include "rules/engine/resolve_numbers.h"
#include "rules/engine/rule_words.h"
#include "rules/measure/reliable_change.h"

namespace turnstone {
namespace {

constexpr int kUsualVisits = 8;     // where there is no site to say
constexpr int kMostFollowUps = 13;  // as ChanceOfFalseAlarm reckons them

// Rules with their numbers filled in, and for how many follow-ups.
struct Case {
  std::string site;
  const v1::RuleSet& rules;
  const std::map<std::string, SettingInForce>& settings;
  std::set<int> follow_ups;
};

std::set<int> FollowUps(int visits) {
  const int last = std::clamp(visits - 1, 1, kMostFollowUps);
  std::set<int> follow_ups{last};
  for (int count = 1; count < std::min(last, 8); count += 2) {
    follow_ups.insert(count);
  }
  return follow_ups;
}

constexpr double kHalfPoint = 0.5;

NoiseRow RowFor(ChangeAlarm alarm, std::optional<double> sem,
                const std::string& preset, bool whole_totals,
                const std::set<int>& follow_ups) {
  NoiseRow row{sem, preset, whole_totals, {}};
  if (whole_totals) alarm.points -= kHalfPoint;
  for (const int count : follow_ups) {
    row.at.push_back(
        {count, ChanceOfFalseAlarm(alarm, sem.value_or(1), count)});
  }
  return row;
}

bool DependsOnSem(const ChangeAlarm& alarm) {
  return alarm.kind != ChangeAlarm::Kind::kRises &&
         alarm.kind != ChangeAlarm::Kind::kTrend;
}

void AddRows(const ChangeAlarm& alarm, const v1::Instrument& instrument,
             const std::set<int>& follow_ups, NoiseOf& noise) {
  if (!DependsOnSem(alarm)) {
    noise.row.push_back(RowFor(alarm, std::nullopt, "", false, follow_ups));
    return;
  }
  for (const v1::ChangePreset& preset : instrument.change_preset()) {
    if (!preset.has_standard_deviation()) continue;
    const double sem = StandardErrorOfMeasurement(
        {preset.standard_deviation(), preset.reliability()});
    for (const bool whole : {false, true}) {
      noise.row.push_back(RowFor(alarm, sem, preset.name(), whole, follow_ups));
    }
  }
  if (!noise.row.empty()) return;
  noise.note = absl::StrCat(
      "the measurement error of ", instrument.name(),
      " is not known here; add a change_preset with standard_deviation and "
      "reliability to its file");
}

void Reckon(const Case& of, const Catalogue& catalogue,
            std::vector<NoiseOf>& all) {
  for (const v1::Rule& rule : of.rules.rule()) {
    const RuleTerms terms(rule, catalogue, of.settings);
    for (const ChangeLeaf& leaf : ChangeLeaves(rule.condition())) {
      NoiseOf noise{of.site,
                    rule.id(),
                    ConditionInWords(*leaf.condition, terms),
                    {},
                    leaf.note};
      const Scale* scale = catalogue.Find(leaf.instrument);
      if (leaf.alarm && scale != nullptr) {
        AddRows(*leaf.alarm, scale->definition(), of.follow_ups, noise);
      }
      all.push_back(std::move(noise));
    }
  }
}

}  // namespace

std::vector<NoiseOf> ReckonNoise(const v1::Configuration& configuration) {
  const Setup setup(configuration, "");
  std::vector<NoiseOf> all;
  for (const auto& [id, site] : setup.sites()) {
    Reckon({id, site.rules, site.settings,
            FollowUps(site.config.planned_visits())},
           setup.catalogue(), all);
  }
  if (!setup.sites().empty()) return all;
  for (v1::RuleSet rules : configuration.rule_set()) {
    const auto settings = OwnSettings(rules);
    ResolveNumbers(settings, rules);
    Reckon({"", rules, settings, FollowUps(kUsualVisits)}, setup.catalogue(),
           all);
  }
  return all;
}

}  // namespace turnstone

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <set>

#include "rules/diff/as_written.h"
#include "rules/diff/compare.h"
#include "rules/engine/resolve_numbers.h"

namespace turnstone {
namespace {

using Lines = std::vector<std::string>;

template <typename Part>
bool Uses(Part part, const std::string& setting) {
  bool uses = false;
  ForEachNumber(
      part, [&](v1::Number& number) { uses |= number.setting() == setting; });
  return uses;
}

// "; touches the rules ...": where the number stands.
std::string Touched(const v1::RuleSet& rules, const std::string& setting) {
  Lines touched;
  for (const v1::Rule& rule : rules.rule()) {
    if (Uses(rule, setting)) touched.push_back(rule.id());
  }
  for (const v1::Division& division : rules.division()) {
    if (!Uses(division, setting)) continue;
    touched.push_back(absl::StrCat("the division ", division.id()));
  }
  if (touched.empty()) return "";
  return absl::StrCat("; touches ", absl::StrJoin(touched, ", "));
}

std::string Shown(const SettingInForce* number) {
  if (number == nullptr) return "not there";
  return absl::StrCat(number->value, " (", number->whose, ")");
}

const SettingInForce* FindSetting(const Site& site, const std::string& name) {
  const auto found = site.settings.find(name);
  return found == site.settings.end() ? nullptr : &found->second;
}

const v1::Setting* FindByName(const v1::RuleSet& rules,
                              const std::string& name) {
  for (const v1::Setting& setting : rules.setting()) {
    if (setting.name() == name) return &setting;
  }
  return nullptr;
}

// What a setting is apart from its number: which a site may choose, its unit,
// its source.
void CompareSettings(const v1::RuleSet& before, const v1::RuleSet& after,
                     Lines& lines) {
  const auto bare = [](v1::Setting setting) {
    setting.clear_value();
    setting.clear_reliable_change();
    return setting;
  };
  for (const v1::Setting& old : before.setting()) {
    const v1::Setting* const now = FindByName(after, old.name());
    if (now == nullptr || !Differs(bare(old), bare(*now))) continue;
    lines.push_back(absl::StrCat(
        "the setting ", old.name(), " differs in its ",
        absl::StrJoin(DifferingFields(bare(old), bare(*now)), ", ")));
  }
}

}  // namespace

std::vector<std::string> CompareNumbers(const Site& before, const Site& after) {
  std::set<std::string> names;
  for (const auto& [name, ignored] : before.settings) names.insert(name);
  for (const auto& [name, ignored] : after.settings) names.insert(name);
  Lines lines;
  for (const std::string& name : names) {
    const SettingInForce* const was = FindSetting(before, name);
    const SettingInForce* const now = FindSetting(after, name);
    if (Shown(was) == Shown(now)) continue;
    const bool other_value =
        was == nullptr || now == nullptr || was->value != now->value;
    lines.push_back(absl::StrCat(
        name, ": was ", Shown(was), ", is now ", Shown(now),
        other_value ? Touched(after.rules, name) : "; the same number"));
  }
  const int planned_before = before.config.planned_visits();
  const int planned_after = after.config.planned_visits();
  if (planned_before != planned_after) {
    lines.push_back(absl::StrCat("visits planned: was ", planned_before,
                                 ", is now ", planned_after));
  }
  return lines;
}

std::vector<std::string> CompareRuleSets(const v1::RuleSet& before,
                                         const v1::RuleSet& after) {
  Lines lines;
  if (before.id() != after.id()) {
    lines.push_back(absl::StrCat("the rule set: was ", before.id(), " version ",
                                 before.version(), ", is now ", after.id(),
                                 " version ", after.version()));
  }
  if (before.title() != after.title()) {
    lines.push_back(absl::StrCat("title of the rule set: was ", before.title(),
                                 ", is now ", after.title()));
  }
  CompareSettings(before, after, lines);
  NamedChanges("the division", before.division(), after.division(), lines);
  if (before.id() == after.id()) {
    NoteSetVersion("the rule set", AsWritten(before), AsWritten(after), lines);
  }
  return lines;
}

}  // namespace turnstone

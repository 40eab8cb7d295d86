#include "rules/check/check_overrides.h"

#include <absl/strings/str_cat.h>

#include <map>

#include "rules/check/check_number.h"
#include "rules/check/known.h"
#include "rules/check/require.h"

namespace turnstone {
namespace {

// Scores are the one place where two numbers must stay in order, so that a
// site's choice of one could silence a rule for good.
class ScoreOrder {
 public:
  ScoreOrder(const v1::SiteConfig& site, const SettingsByName& settings,
             const Place& file)
      : settings_(settings), file_(file) {
    for (int i = 0; i < site.override_size(); ++i) {
      const v1::SettingOverride& own = site.override(i);
      if (own.has_value()) overrides_[own.name()] = {own.value(), i};
    }
  }

  void Check(const v1::Rule& rule, const v1::Condition& condition) const {
    if (condition.has_not_()) Check(rule, condition.not_());
    for (const v1::Condition& part : condition.all_of().condition()) {
      Check(rule, part);
    }
    for (const v1::Condition& part : condition.any_of().condition()) {
      Check(rule, part);
    }
    if (!condition.score().has_at_least() || !condition.score().has_at_most()) {
      return;
    }
    CheckEnds(rule, condition.score().at_least(), condition.score().at_most());
  }

 private:
  struct Override {
    int value;
    int index;
  };

  const Override* Find(const v1::Number& number) const {
    const auto found = overrides_.find(number.setting());
    return found == overrides_.end() ? nullptr : &found->second;
  }

  int Value(const v1::Number& number) const {
    if (const Override* own = Find(number)) return own->value;
    const auto setting = settings_.find(number.setting());
    return setting == settings_.end() ? number.value()
                                      : setting->second->value();
  }

  void CheckEnds(const v1::Rule& rule, const v1::Number& low,
                 const v1::Number& high) const {
    const Override* own = Find(low) != nullptr ? Find(low) : Find(high);
    if (own == nullptr || Value(low) <= Value(high)) return;
    file_.At("override", own->index)
        .At("value")
        .Report(
            "override-leaves-no-range",
            absl::StrCat("with this number rule \"", rule.id(),
                         "\" asks for a total of at least ", Value(low),
                         " and at most ", Value(high), ", which no total is"),
            "choose numbers that leave a range");
  }

  const SettingsByName& settings_;
  const Place& file_;
  std::map<std::string, Override> overrides_;
};

// A reliable change is one of points, and of the instrument the rule set means.
void CheckSameMeasure(const v1::SettingOverride& own,
                      const v1::Setting& setting, const Place& place) {
  if (!own.has_reliable_change()) return;
  const std::string& meant = setting.reliable_change().instrument();
  const std::string& named = own.reliable_change().instrument();
  if (setting.unit() != "points") {
    place.At("reliable_change")
        .Report("wrong-unit",
                absl::StrCat("\"", setting.name(), "\" is in ", setting.unit(),
                             ", not in points"),
                "write value: instead");
  } else if (!meant.empty() && !named.empty() && named != meant) {
    place.At("reliable_change")
        .At("instrument")
        .Report("wrong-instrument",
                absl::StrCat("\"", setting.name(), "\" is about ", meant),
                absl::StrCat("write instrument: \"", meant, "\""));
  }
}

}  // namespace

void CheckOverrides(const v1::SiteConfig& site, const Place& file,
                    const v1::RuleSet* rules) {
  SettingsByName settings;
  if (rules != nullptr) {
    for (const v1::Setting& setting : rules->setting()) {
      settings.emplace(setting.name(), &setting);
    }
  }
  Names names("override");
  for (int i = 0; i < site.override_size(); ++i) {
    const v1::SettingOverride& own = site.override(i);
    const Place place = file.At("override", i);
    RequireText(place, "reason", "who decided and why");
    const Place name = place.At("name");
    names.Add(name, own.name());
    Interval range = kAnyNumber;
    if (RequireText(place, "name", "the name of a setting") &&
        rules != nullptr) {
      const v1::Setting* setting =
          Lookup(settings, true, "setting", own.name(), name);
      if (setting != nullptr) {
        range = {setting->low(), setting->high()};
        CheckSameMeasure(own, *setting, place);
      }
    }
    // Where it could not be taken from a reliability, that is what to report.
    if (own.has_reliable_change() && !own.has_value()) continue;
    RequireNumber(place, "value", range);
  }
  if (rules == nullptr) return;
  const ScoreOrder order(site, settings, file);
  for (const v1::Rule& rule : rules->rule()) {
    order.Check(rule, rule.condition());
  }
}

}  // namespace turnstone

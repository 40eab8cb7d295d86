#include "rules/check/check_number.h"

#include <absl/strings/str_cat.h>

#include "rules/check/known.h"

namespace turnstone {
namespace {

std::string FromTo(Interval range) {
  return absl::StrCat(range.low, " to ", range.high);
}

std::string HowToWrite(const std::string& field, const NumberPlace& allowed) {
  std::string text = absl::StrCat("write ", field, " { value: ... }");
  if (allowed.range) absl::StrAppend(&text, " from ", FromTo(*allowed.range));
  return absl::StrCat(text, ", or ", field,
                      " { setting: \"...\" } with a setting in ", allowed.unit);
}

bool CheckSettingHere(const v1::Setting& setting, const Place& place,
                      const NumberPlace& allowed) {
  if (setting.unit() != allowed.unit) {
    place.Report("wrong-unit",
                 absl::StrCat("setting \"", setting.name(), "\" is in ",
                              setting.unit(), ", not in ", allowed.unit),
                 absl::StrCat("name a setting in ", allowed.unit));
    return false;
  }
  const std::string& measured = setting.reliable_change().instrument();
  if (!allowed.instrument.empty() && !measured.empty() &&
      measured != allowed.instrument) {
    place.Report("wrong-instrument",
                 absl::StrCat("setting \"", setting.name(),
                              "\" is a reliable change of ", measured,
                              ", not of ", allowed.instrument),
                 "name a setting of that instrument, or one that is written "
                 "out");
    return false;
  }
  const Interval choice{setting.low(), setting.high()};
  if (!allowed.range || (allowed.range->low <= choice.low &&
                         choice.high <= allowed.range->high)) {
    return true;
  }
  place.Report(
      "setting-range-too-wide",
      absl::StrCat("setting \"", setting.name(), "\" may be ", FromTo(choice),
                   ", but here only ", FromTo(*allowed.range), " makes sense"),
      "narrow the setting's low and high, or use another setting");
  return false;
}

}  // namespace

std::optional<int> CheckNumber(const Place& place, const std::string& field,
                               const NumberPlace& allowed,
                               const SettingsByName& settings) {
  const Place at = place.At(field);
  const auto& number = static_cast<const v1::Number&>(*at.message());
  if (number.has_value() == number.has_setting()) {
    at.Report(
        number.has_value() ? "fields-exclude-each-other" : "number-missing",
        absl::StrCat(field, number.has_value()
                                ? " has both a value and a setting"
                                : " has neither a value nor a setting"),
        number.has_value() ? "keep one of them" : HowToWrite(field, allowed));
    return std::nullopt;
  }
  if (number.has_setting()) {
    const Place name = at.At("setting");
    const v1::Setting* setting =
        Lookup(settings, true, "setting", number.setting(), name);
    if (setting == nullptr || !CheckSettingHere(*setting, name, allowed)) {
      return std::nullopt;
    }
    return setting->has_value() ? std::optional<int>(setting->value())
                                : std::nullopt;
  }
  const int value = number.value();
  if (allowed.range &&
      (value < allowed.range->low || allowed.range->high < value)) {
    at.At("value").Report(
        "number-out-of-range",
        absl::StrCat(field, " is ", value, " ", allowed.unit),
        absl::StrCat("write a number from ", FromTo(*allowed.range)));
    return std::nullopt;
  }
  return value;
}

}  // namespace turnstone

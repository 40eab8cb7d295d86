#include "rules/check/reliable_changes.h"

#include <absl/strings/str_cat.h>

#include <optional>

#include "rules/check/require.h"
#include "rules/measure/change_preset.h"

namespace turnstone {
namespace {

// From a named preset. Absent, and reported, if there is none of that name.
std::optional<int> FromPreset(const v1::ReliableChange& change,
                              const Scale& scale, const Place& place) {
  const v1::ChangePreset* preset = scale.FindPreset(change.preset());
  if (preset != nullptr) return PointsOf(*preset);
  std::vector<std::string> names;
  for (const v1::ChangePreset& it : scale.definition().change_preset()) {
    names.push_back(it.name());
  }
  place.At("preset").Report(
      "unknown-name",
      absl::StrCat("\"", change.instrument(), "\" has no change preset \"",
                   change.preset(), "\""),
      names.empty() ? "write standard_deviation: and reliability: instead"
                    : Suggest(change.preset(), names));
  return std::nullopt;
}

std::optional<int> Points(const v1::ReliableChange& change, const Place& place,
                          const Known& known) {
  const bool own = change.has_standard_deviation() || change.has_reliability();
  if (own != change.preset().empty()) {
    place.Report("reliable-change-without-figures",
                 "it is not clear where the number is to come from",
                 "write either preset: \"...\", or standard_deviation: and "
                 "reliability:");
    return std::nullopt;
  }
  if (!RequireText(place, "instrument", "the id of an instrument")) {
    return std::nullopt;
  }
  const Scale* scale = Lookup(known.instruments, known.complete, "instrument",
                              change.instrument(), place.At("instrument"));
  if (scale != nullptr && !scale->HasItems()) {
    place.At("instrument")
        .Report("instrument-without-total",
                absl::StrCat("\"", change.instrument(),
                             "\" keeps a result, not a total"),
                "name an instrument with items");
    return std::nullopt;
  }
  if (!own) {
    return scale == nullptr ? std::nullopt : FromPreset(change, *scale, place);
  }
  if (!RequireReliability(place)) return std::nullopt;
  return SmallestReliableWholeChange(
      {change.standard_deviation(), change.reliability()});
}

// `holder` is a Setting or a SettingOverride.
template <typename Holder>
void Take(Holder& holder, const Place& place, const Known& known) {
  if (!holder.has_reliable_change()) return;
  if (holder.has_value()) {
    place.At("reliable_change")
        .Report("fields-exclude-each-other",
                "both value and reliable_change are written",
                "keep one of them");
    return;
  }
  const std::optional<int> points =
      Points(holder.reliable_change(), place.At("reliable_change"), known);
  if (points) holder.set_value(*points);
}

// `numbers` are settings or overrides.
template <typename Numbers>
absl::Status AreKnown(const Numbers& numbers, const std::string& whose) {
  for (const auto& number : numbers) {
    if (number.has_value()) continue;
    return absl::NotFoundError(absl::StrCat(
        "the number ", number.name(), " of ", whose, " comes from ",
        number.reliable_change().instrument(),
        ", which is not among the files; add the folder with instruments/"));
  }
  return absl::OkStatus();
}

}  // namespace

void TakeReliableChanges(v1::RuleSet& rules, const Place& file,
                         const Known& known) {
  for (int i = 0; i < rules.setting_size(); ++i) {
    v1::Setting& setting = *rules.mutable_setting(i);
    const Place place = file.At("setting", i);
    Take(setting, place, known);
    if (setting.has_reliable_change() && setting.unit() != "points") {
      place.At("unit").Report("wrong-unit",
                              "a reliable change is a number of points",
                              "write unit: \"points\"");
    }
  }
}

void TakeReliableChanges(v1::SiteConfig& site, const Place& file,
                         const Known& known) {
  for (int i = 0; i < site.override_size(); ++i) {
    Take(*site.mutable_override(i), file.At("override", i), known);
  }
}

absl::Status NumbersAreKnown(const v1::Configuration& configuration) {
  absl::Status known;
  for (const v1::RuleSet& rules : configuration.rule_set()) {
    known.Update(AreKnown(rules.setting(), rules.id()));
  }
  for (const v1::SiteConfig& site : configuration.site()) {
    known.Update(AreKnown(site.override(), site.id()));
  }
  return known;
}

}  // namespace turnstone

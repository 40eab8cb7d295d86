#include "rules/check/check_instrument.h"

#include <absl/strings/str_cat.h>

#include <map>

#include "rules/check/answer_lists.h"
#include "rules/check/codes.h"
#include "rules/check/require.h"
#include "rules/check/totals.h"

namespace turnstone {
namespace {

const google::protobuf::FieldDescriptor* Field(const v1::Instrument& instrument,
                                               const std::string& name) {
  return instrument.GetDescriptor()->FindFieldByName(name);
}

bool IsRepeated(const v1::Instrument& instrument, const std::string& name) {
  return Field(instrument, name)->is_repeated();
}

bool IsWritten(const v1::Instrument& instrument, const std::string& name) {
  const auto* field = Field(instrument, name);
  return field->is_repeated()
             ? instrument.GetReflection()->FieldSize(instrument, field) > 0
             : instrument.GetReflection()->HasField(instrument, field);
}

void CheckHeader(const v1::Instrument& instrument, const Place& file) {
  RequireId(file, "id");
  RequireText(file, "name", "the name clinicians use");
  if (instrument.result().empty()) RequireChoice(file, "direction");
  RequireText(file, "source", "where items, codes and keys come from");
  if (instrument.has_panel_code()) {
    CheckCode(file.At("panel_code"), instrument.panel_code());
  }
  if (instrument.has_total_code()) {
    CheckCode(file.At("total_code"), instrument.total_code());
  }
  if (instrument.has_multiplier()) RequireNumber(file, "multiplier", {1, 10});
}

void CheckItem(const v1::Item& item, const Place& place, Names& codes,
               AnswerLists& lists) {
  CheckCode(place.At("code"), item.code());
  codes.Add(place.At("code"), item.code());
  for (int i = 0; i < item.also_coded_size(); ++i) {
    const Place at = place.At("also_coded", i);
    CheckCode(at, item.also_coded(i));
    codes.Add(at, item.also_coded(i));
  }
  RequireText(place, "label", "what the question asks about");
  lists.CheckUse(item, place);
  if (item.self_harm() && item.unscored()) {
    place.At("unscored")
        .Report(
            "self-harm-item-unscored",
            "the self-harm item is not scored, so that no rule could see it",
            "remove unscored: true");
  }
}

void CheckResults(const v1::Instrument& instrument, const Place& file) {
  Names codes("result code");
  for (int i = 0; i < instrument.result_size(); ++i) {
    const Place place = file.At("result", i);
    CheckCode(place.At("code"), instrument.result(i).code());
    codes.Add(place.At("code"), instrument.result(i).code());
    RequireText(place, "label", "what the result means");
  }
  // What is said of totals means nothing without one.
  for (const char* field :
       {"direction", "item", "answer_list", "band", "change_preset",
        "prorating", "symptom_count", "multiplier"}) {
    if (!IsWritten(instrument, field)) continue;
    file.At(field, IsRepeated(instrument, field) ? 0 : -1)
        .Report("total-beside-result",
                absl::StrCat(field,
                             " stands beside result, but an instrument "
                             "that keeps only a result has no total"),
                "keep either results or items");
  }
}

void CheckPresets(const v1::Instrument& instrument, const Place& file) {
  Names names("change preset");
  for (int i = 0; i < instrument.change_preset_size(); ++i) {
    const v1::ChangePreset& preset = instrument.change_preset(i);
    const Place place = file.At("change_preset", i);
    RequireId(place, "name");
    names.Add(place.At("name"), preset.name());
    RequireText(place, "source", "what the figures are and where they stand");
    const bool spread =
        preset.has_standard_deviation() || preset.has_reliability();
    if (preset.has_points() && spread) {
      place.At("points").Report("fields-exclude-each-other",
                                "points stand beside a standard deviation",
                                "keep one of them");
    } else if (spread) {
      RequireReliability(place);
    } else {
      RequireNumber(place, "points", {1, 100});
    }
  }
}

void CheckItems(const v1::Instrument& instrument, const Place& file) {
  AnswerLists lists(instrument, file);
  Names codes("question code");
  int scored = 0;
  bool self_harm = false;
  for (int i = 0; i < instrument.item_size(); ++i) {
    const v1::Item& item = instrument.item(i);
    const Place place = file.At("item", i);
    CheckItem(item, place, codes, lists);
    if (!item.unscored()) ++scored;
    if (item.self_harm() && self_harm) {
      place.At("self_harm")
          .Report("second-self-harm-item", "a second item is marked self_harm",
                  "mark one item only");
    }
    self_harm = self_harm || item.self_harm();
  }
  if (scored == 0) {
    file.Report(
        "instrument-without-items", "the instrument has no scored item",
        "add item { code: \"...\" label: \"...\" answers: \"...\" }, or "
        "result { code: \"...\" label: \"...\" } where only a result is "
        "kept");
  }
  lists.CheckAllUsed();
}

}  // namespace

std::optional<Scale> CheckInstrument(const v1::Instrument& instrument,
                                     const Place& file) {
  const size_t before = file.reported();
  CheckHeader(instrument, file);
  if (instrument.result().empty()) {
    CheckItems(instrument, file);
  } else {
    CheckResults(instrument, file);
  }
  CheckPresets(instrument, file);
  if (file.reported() > before) return std::nullopt;
  // What is said of totals can be judged only where totals can be computed.
  Scale scale(instrument);
  CheckBands(scale, file);
  CheckProrating(scale, file);
  CheckSymptomCount(scale, file);
  if (file.reported() > before) return std::nullopt;
  return scale;
}

}  // namespace turnstone

#include "rules/check/check_instrument.h"

#include <absl/strings/str_cat.h>

#include <map>

#include "rules/check/answer_lists.h"
#include "rules/check/codes.h"
#include "rules/check/require.h"
#include "rules/check/totals.h"

namespace turnstone {
namespace {

void CheckHeader(const v1::Instrument& instrument, const Place& file) {
  RequireId(file, "id");
  RequireText(file, "name", "the name clinicians use");
  RequireChoice(file, "direction");
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
            "the self-harm item is not scored, so that no rule could see it",
            "remove unscored: true");
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
          .Report("a second item is marked self_harm", "mark one item only");
    }
    self_harm = self_harm || item.self_harm();
  }
  if (scored == 0) {
    file.Report("the instrument has no scored item",
                "add item { code: \"...\" label: \"...\" answers: \"...\" }");
  }
  lists.CheckAllUsed();
}

}  // namespace

std::optional<Scale> CheckInstrument(const v1::Instrument& instrument,
                                     const Place& file) {
  const size_t before = file.reported();
  CheckHeader(instrument, file);
  CheckItems(instrument, file);
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

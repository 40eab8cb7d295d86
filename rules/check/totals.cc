#include "rules/check/totals.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <limits>

#include "rules/check/require.h"

namespace turnstone {
namespace {

int ScoredItems(const Scale& scale) {
  const auto& items = scale.definition().item();
  return static_cast<int>(
      std::count_if(items.begin(), items.end(),
                    [](const v1::Item& item) { return !item.unscored(); }));
}

// Band `index` begins where the one before ended and is not upside down.
void CheckBand(const v1::Band& band, const Place& place, int begin) {
  const Interval any{0, std::numeric_limits<int>::max()};
  const bool has_low = RequireNumber(place, "low", any);
  const bool has_high = RequireNumber(place, "high", any);
  RequireText(place, "label", "words for totals in this range");
  if (has_low && band.low() != begin) {
    place.At("low").Report(
        "bands-leave-gap",
        absl::StrCat("the band begins at ", band.low(), ", not at ", begin,
                     ", so totals have no band or two"),
        absl::StrCat("write low: ", begin));
  } else if (has_low && has_high && band.high() < band.low()) {
    place.At("high").Report(
        "range-upside-down", "the band ends before it begins",
        absl::StrCat("write a number of ", band.low(), " or more"));
  }
}

void CheckQuestions(
    const Scale& scale, const Place& place, const std::string& field,
    const google::protobuf::RepeatedPtrField<std::string>& codes) {
  Names names("question code");
  for (int i = 0; i < codes.size(); ++i) {
    const Place at = place.At(field, i);
    names.Add(at, codes.Get(i));
    const auto item = scale.FindItem(codes.Get(i));
    if (!item) {
      at.Report("unknown-name",
                absl::StrCat("there is no item \"", codes.Get(i), "\""),
                "write the code of one of the items above");
    } else if (scale.definition().item(static_cast<int>(*item)).unscored()) {
      at.Report("item-not-scored",
                absl::StrCat("item \"", codes.Get(i), "\" is not scored"),
                "write the code of a scored item");
    }
  }
}

}  // namespace

void CheckBands(const Scale& scale, const Place& file) {
  const auto& bands = scale.definition().band();
  if (bands.empty()) return;
  RequireText(file, "band_source", "where the bands come from");
  int begin = scale.Range().low;
  for (int i = 0; i < bands.size(); ++i) {
    CheckBand(bands.Get(i), file.At("band", i), begin);
    begin = bands.Get(i).high() + 1;
  }
  const int last = bands.size() - 1;
  if (bands.Get(last).high() != scale.Range().high) {
    file.At("band", last)
        .At("high")
        .Report("bands-leave-gap",
                absl::StrCat("the last band ends at ", bands.Get(last).high(),
                             ", but the highest total is ", scale.Range().high),
                absl::StrCat("write high: ", scale.Range().high));
  }
}

void CheckProrating(const Scale& scale, const Place& file) {
  if (!scale.definition().has_prorating()) return;
  const Place place = file.At("prorating");
  RequireText(place, "source", "where the estimate comes from");
  RequireNumber(place, "most_missing",
                {1, std::max(1, ScoredItems(scale) - 1)});
}

void CheckSymptomCount(const Scale& scale, const Place& file) {
  if (!scale.definition().has_symptom_count()) return;
  const v1::SymptomCount& count = scale.definition().symptom_count();
  const Place place = file.At("symptom_count");
  const int items = ScoredItems(scale);
  RequireNumber(place, "counts_from", {1, 100});
  RequireNumber(place, "other_from", {1, items});
  RequireNumber(place, "major_from", {1, items});
  if (count.other_from() > count.major_from()) {
    place.At("other_from")
        .Report("range-upside-down", "other_from is higher than major_from",
                "write a number below major_from");
  }
  CheckQuestions(scale, place, "counts_from_one", count.counts_from_one());
  CheckQuestions(scale, place, "core", count.core());
  if (count.core().empty()) {
    place.Report("core-question-missing", "core is missing",
                 "write core: with the code of a question that must count");
  }
  RequireText(place, "source", "where the algorithm comes from");
}

}  // namespace turnstone

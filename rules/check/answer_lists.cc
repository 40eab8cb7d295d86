#include "rules/check/answer_lists.h"

#include <absl/strings/str_cat.h>

#include <vector>

#include "rules/check/codes.h"
#include "rules/check/require.h"
#include "rules/check/suggest.h"

namespace turnstone {
namespace {

void CheckAnswer(const v1::Answer& answer, const Place& place, Names& codes) {
  CheckCode(place.At("code"), answer.code());
  codes.Add(place.At("code"), answer.code());
  if (answer.has_score()) RequireNumber(place, "score", {0, 100});
}

void CheckScored(const v1::Answer& answer, const v1::Item& item,
                 const Place& place) {
  if (answer.has_score()) return;
  place.Report(
      "answer-without-score",
      absl::StrCat("answer \"", answer.code(), "\" has no score, but item \"",
                   item.code(), "\" counts towards the total"),
      "write score: with its points, or mark the item unscored: true");
}

}  // namespace

AnswerLists::AnswerLists(const v1::Instrument& instrument, const Place& file) {
  Names ids("answer list");
  for (int i = 0; i < instrument.answer_list_size(); ++i) {
    const v1::AnswerList& list = instrument.answer_list(i);
    const Place place = file.At("answer_list", i);
    CheckCode(place.At("id"), list.id());
    ids.Add(place.At("id"), list.id());
    if (list.answer().empty()) {
      place.Report("answer-list-empty",
                   absl::StrCat("answer list \"", list.id(), "\" is empty"),
                   "add answer { code: \"...\" }");
    }
    Names codes("answer");
    for (int j = 0; j < list.answer_size(); ++j) {
      CheckAnswer(list.answer(j), place.At("answer", j), codes);
    }
    lists_.insert({list.id(), {&list, place, codes}});
  }
}

void AnswerLists::CheckUse(const v1::Item& item, const Place& place) {
  Names codes("answer");
  const auto found = lists_.find(item.answers());
  if (found == lists_.end()) {
    ReportUnknown(item.answers(), place.At("answers"));
  } else {
    const List& list = found->second;
    codes = list.codes;
    used_.insert(item.answers());
    if (!item.unscored() && scored_.insert(item.answers()).second) {
      for (int i = 0; i < list.content->answer_size(); ++i) {
        CheckScored(list.content->answer(i), item, list.place.At("answer", i));
      }
    }
  }
  for (int i = 0; i < item.also_accepts_size(); ++i) {
    const Place at = place.At("also_accepts", i);
    CheckAnswer(item.also_accepts(i), at, codes);
    if (!item.unscored()) CheckScored(item.also_accepts(i), item, at);
  }
}

void AnswerLists::ReportUnknown(const std::string& id,
                                const Place& place) const {
  std::vector<std::string> ids;
  for (const auto& [known, ignored] : lists_) ids.push_back(known);
  place.Report(
      "unknown-name", absl::StrCat("there is no answer list \"", id, "\""),
      ids.empty() ? "add answer_list { id: \"...\" }" : Suggest(id, ids));
}

void AnswerLists::CheckAllUsed() const {
  for (const auto& [id, list] : lists_) {
    if (used_.contains(id)) continue;
    list.place.Report("answer-list-unused",
                      absl::StrCat("no item uses answer list \"", id, "\""),
                      "remove it, or name it in an item's answers");
  }
}

}  // namespace turnstone

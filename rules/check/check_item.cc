#include <absl/strings/str_cat.h>

#include <algorithm>
#include <limits>

#include "rules/check/check_condition.h"

namespace turnstone {
namespace {

// The item that a condition names, as the condition writes it.
struct Which {
  std::string field;     // "self_harm" or "question"
  std::string question;  // empty for the self-harm item
  [[nodiscard]] std::optional<size_t> In(const Scale& scale) const {
    return question.empty() ? scale.SelfHarmItem() : scale.FindItem(question);
  }
  [[nodiscard]] std::string InWords() const {
    return question.empty() ? "self-harm item"
                            : absl::StrCat("item \"", question, "\"");
  }
};

// Absent, and reported, if the condition names none.
template <typename ItemOf>
std::optional<Which> CheckNamed(const ItemOf& item, const Place& place) {
  if (item.has_self_harm() && item.self_harm()) return Which{"self_harm", ""};
  if (item.has_question() && !item.question().empty()) {
    return Which{"question", item.question()};
  }
  place.Report("item-not-named", "the condition names no item",
               "write self_harm: true or question: \"...\"");
  return std::nullopt;
}

// Calls `use` with every sound instrument of the rule and its item. Reports
// instruments without such an item.
template <typename Use>
void ForEachForm(const Which& which, const Place& place,
                 const RuleContext& rule, Use use) {
  for (const std::string& id : rule.when.screening().instrument()) {
    const auto known = rule.known.instruments.find(id);
    if (known == rule.known.instruments.end() || !known->second) continue;
    const Scale& scale = *known->second;
    if (const auto item = which.In(scale)) {
      use(scale, *item);
      continue;
    }
    place.At(which.field)
        .Report("item-not-in-instrument",
                absl::StrCat("\"", id, "\" has no ", which.InWords()),
                absl::StrCat("ask about another item, or leave \"", id,
                             "\" out of the rule's screening"));
  }
}

}  // namespace

void CheckItem(const v1::ItemCondition& item, const Place& place,
               const RuleContext& rule) {
  const std::optional<Which> which = CheckNamed(item, place);
  std::optional<Interval> points;
  if (which) {
    const auto use = [&](const Scale& scale, size_t index) {
      const v1::Item& asked = scale.definition().item(static_cast<int>(index));
      if (asked.unscored()) {
        place.At(which->field)
            .Report("item-not-scored",
                    absl::StrCat("item \"", asked.code(), "\" has no score"),
                    "ask about a scored item, or use item_unanswered");
        return;
      }
      const Interval range = scale.ItemRange(index);
      if (!points) points = range;
      // A number every one of the forms can reach.
      points = Interval{std::max(points->low, range.low),
                        std::min(points->high, range.high)};
    };
    ForEachForm(*which, place, rule, use);
  }
  CheckNumber(place, "at_least", {"points", points}, rule.settings);
}

void CheckItem(const v1::ItemUnanswered& item, const Place& place,
               const RuleContext& rule) {
  const std::optional<Which> which = CheckNamed(item, place);
  if (!which) return;
  ForEachForm(*which, place, rule, [](const Scale&, size_t) {});
}

}  // namespace turnstone

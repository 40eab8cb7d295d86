#include "rules/prove/form_groups.h"

#include <algorithm>
#include <optional>
#include <tuple>

#include "rules/prove/big_count.h"

namespace turnstone {
namespace {

// Items answered so far, in a form and in one that may be worse in one item.
using Beginning = std::pair<FormSketch, FormSketch>;
struct Begun {
  // Forms while they are the same, then pairs.
  FormPair pair;
  bool differ = false;
};
using BegunForms = std::map<std::pair<bool, Beginning>, Begun>;

// The next choices on the way to worse; none where there are no points, or no
// worse answer.
std::vector<size_t> WorseThan(const std::vector<ItemChoice>& choices,
                              size_t choice, bool higher_is_worse) {
  std::optional<int> next;
  const std::optional<int> from = choices[choice].points;
  const auto is_worse = [&](int points) {
    return higher_is_worse ? points > *from : points < *from;
  };
  for (const ItemChoice& other : choices) {
    if (!from || !other.points || !is_worse(*other.points)) continue;
    const bool nearer = !next || (higher_is_worse ? *other.points < *next
                                                  : *other.points > *next);
    if (nearer) next = other.points;
  }
  std::vector<size_t> worse;
  for (size_t i = 0; next && i < choices.size(); ++i) {
    if (choices[i].points == next) worse.push_back(i);
  }
  return worse;
}

void Take(const std::pair<bool, Beginning>& key, const Begun& begun,
          BegunForms& into) {
  const auto [place, added] = into.emplace(key, begun);
  if (added) return;
  FormPair& known = place->second.pair;
  const uint64_t pairs = Plus(known.pairs, begun.pair.pairs);
  const auto order = [](const FormPair& pair) {
    return std::tie(pair.smallest, pair.item, pair.choice);
  };
  if (order(begun.pair) < order(known)) known = begun.pair;
  known.pairs = pairs;
}

// Adds item `index` in every way to what was begun.
class NextItem {
 public:
  NextItem(const Scale& scale, size_t index, bool looked_at)
      : scale_(scale),
        index_(index),
        looked_at_(looked_at),
        choices_(ChoicesOf(scale, index)) {}

  [[nodiscard]] BegunForms Add(const BegunForms& begun) const {
    BegunForms next;
    for (const auto& [key, value] : begun) {
      for (size_t i = 0; i < choices_.size(); ++i) {
        AddChoice(key.second, value, i, i, next);
        if (value.differ) continue;
        for (const size_t worse : WorseThan(choices_, i, HigherIsWorse())) {
          AddChoice(key.second, value, i, worse, next);
        }
      }
    }
    return next;
  }

 private:
  [[nodiscard]] bool HigherIsWorse() const {
    return scale_.definition().direction() == v1::DIRECTION_HIGHER_IS_WORSE;
  }

  void AddChoice(Beginning forms, Begun begun, size_t first, size_t second,
                 BegunForms& next) const {
    AddItem(scale_, index_, choices_[first], looked_at_, forms.first);
    AddItem(scale_, index_, choices_[second], looked_at_, forms.second);
    const ItemChoice& choice = choices_[first];
    FormSize& size = begun.pair.smallest;
    if (choice.points) {
      size.points += *choice.points;
      if (*choice.points > scale_.ItemRange(index_).low) ++size.above_lowest;
    }
    size.missing = forms.first.missing;
    size.choices.insert(size.choices.begin(), first);
    if (first != second) {
      begun.differ = true;
      begun.pair.item = index_;
      begun.pair.choice = second;
    }
    Take({begun.differ, std::move(forms)}, begun, next);
  }

  const Scale& scale_;
  size_t index_;
  bool looked_at_;
  std::vector<ItemChoice> choices_;
};

}  // namespace

FormGroups::FormGroups(const Scale& scale, std::set<size_t> looked_at)
    : scale_(&scale), looked_at_(std::move(looked_at)) {
  BegunForms begun;
  begun[{false, {}}].pair.pairs = 1;
  const auto items = static_cast<size_t>(scale.definition().item_size());
  for (size_t i = 0; i < items; ++i) {
    begun = NextItem(scale, i, looked_at_.contains(i)).Add(begun);
  }
  for (auto& [key, value] : begun) {
    if (value.differ) {
      pairs_.emplace(key.second, value.pair);
    } else {
      groups_.emplace(key.second.first,
                      FormGroup{value.pair.pairs, value.pair.smallest});
    }
  }
}

v1::ScreeningResult FormGroups::FormOf(const FormSize& size) const {
  v1::ScreeningResult form;
  form.set_instrument(scale_->definition().id());
  const size_t items = size.choices.size();
  for (size_t i = 0; i < items; ++i) {
    const std::vector<ItemChoice> choices = ChoicesOf(*scale_, i);
    const ItemChoice& choice = choices[size.choices[items - 1 - i]];
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question(scale_->definition().item(static_cast<int>(i)).code());
    if (choice.answer.empty()) {
      answer.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
    } else {
      answer.set_answer(choice.answer);
    }
  }
  return form;
}

v1::ScreeningResult FormGroups::WorseForm(const FormPair& pair) const {
  FormSize worse = pair.smallest;
  worse.choices[worse.choices.size() - 1 - pair.item] = pair.choice;
  return FormOf(worse);
}

std::vector<int> FormGroups::Totals() const {
  std::vector<int> totals;
  const Interval range = scale_->Range();
  totals.reserve(static_cast<size_t>(range.high - range.low) + 1);
  for (int total = range.low; total <= range.high; ++total) {
    if (total % scale_->Multiplier() == 0) totals.push_back(total);
  }
  return totals;
}

}  // namespace turnstone

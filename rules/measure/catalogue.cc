#include "rules/measure/catalogue.h"

#include <algorithm>
#include <utility>

namespace turnstone {
namespace {

const v1::AnswerList& ListOf(const v1::Instrument& instrument,
                             const v1::Item& item) {
  const auto& lists = instrument.answer_list();
  const auto found = std::find_if(
      lists.begin(), lists.end(),
      [&](const v1::AnswerList& list) { return list.id() == item.answers(); });
  return found == lists.end() ? v1::AnswerList::default_instance() : *found;
}

// Lowest plus highest score of the list: what a reversed score is taken from.
int EndsOf(const v1::AnswerList& list) {
  std::optional<Interval> ends;
  for (const v1::Answer& answer : list.answer()) {
    if (!answer.has_score()) continue;
    if (!ends) ends = Interval{answer.score(), answer.score()};
    ends->low = std::min(ends->low, answer.score());
    ends->high = std::max(ends->high, answer.score());
  }
  return ends ? ends->low + ends->high : 0;
}

std::map<std::string, AnswerKey> KeysOf(const v1::Instrument& instrument,
                                        const v1::Item& item) {
  std::map<std::string, AnswerKey> keys;
  const v1::AnswerList& list = ListOf(instrument, item);
  const int ends = EndsOf(list);
  const auto add = [&](const v1::Answer& answer) {
    AnswerKey& key = keys[answer.code()];
    if (item.unscored() || !answer.has_score()) return;
    key.points = item.reversed() ? ends - answer.score() : answer.score();
  };
  std::for_each(list.answer().begin(), list.answer().end(), add);
  std::for_each(item.also_accepts().begin(), item.also_accepts().end(), add);
  return keys;
}

Interval RangeOf(const std::map<std::string, AnswerKey>& keys) {
  std::optional<Interval> range;
  for (const auto& [code, key] : keys) {
    if (!key.points) continue;
    if (!range) range = Interval{*key.points, *key.points};
    range->low = std::min(range->low, *key.points);
    range->high = std::max(range->high, *key.points);
  }
  return range.value_or(Interval{});
}

}  // namespace

Scale::Scale(v1::Instrument definition) : definition_(std::move(definition)) {
  for (const v1::Item& item : definition_.item()) {
    const size_t index = answers_.size();
    item_by_code_[item.code()] = index;
    for (const std::string& code : item.also_coded()) {
      item_by_code_[code] = index;
    }
    answers_.push_back(KeysOf(definition_, item));
    item_ranges_.push_back(RangeOf(answers_.back()));
    range_.low += item_ranges_.back().low * Multiplier();
    range_.high += item_ranges_.back().high * Multiplier();
  }
}

int Scale::Multiplier() const {
  return definition_.has_multiplier() ? definition_.multiplier() : 1;
}

std::optional<size_t> Scale::FindItem(const std::string& code) const {
  const auto found = item_by_code_.find(code);
  if (found == item_by_code_.end()) return std::nullopt;
  return found->second;
}

const AnswerKey* Scale::FindAnswer(size_t index,
                                   const std::string& answer) const {
  const auto found = answers_[index].find(answer);
  return found == answers_[index].end() ? nullptr : &found->second;
}

std::optional<size_t> Scale::SelfHarmItem() const {
  size_t index = 0;
  for (const v1::Item& item : definition_.item()) {
    if (item.self_harm()) return index;
    ++index;
  }
  return std::nullopt;
}

std::string Scale::BandFor(Interval total) const {
  for (const v1::Band& band : definition_.band()) {
    if (band.low() <= total.low && total.high <= band.high()) {
      return band.label();
    }
  }
  return "";
}

const v1::Result* Scale::FindResult(const std::string& code) const {
  const auto& results = definition_.result();
  const auto found =
      std::find_if(results.begin(), results.end(),
                   [&](const v1::Result& it) { return it.code() == code; });
  return found == results.end() ? nullptr : &*found;
}

const v1::ChangePreset* Scale::FindPreset(const std::string& name) const {
  const auto& presets = definition_.change_preset();
  const auto found = std::find_if(
      presets.begin(), presets.end(),
      [&](const v1::ChangePreset& it) { return it.name() == name; });
  return found == presets.end() ? nullptr : &*found;
}

std::vector<v1::Answer> Scale::AnswersTo(size_t index) const {
  const v1::Item& item = definition_.item(static_cast<int>(index));
  const v1::AnswerList& list = ListOf(definition_, item);
  std::vector<v1::Answer> answers(list.answer().begin(), list.answer().end());
  answers.insert(answers.end(), item.also_accepts().begin(),
                 item.also_accepts().end());
  return answers;
}

Catalogue::Catalogue(std::vector<v1::Instrument> instruments) {
  for (v1::Instrument& instrument : instruments) {
    const std::string id = instrument.id();
    if (instrument.has_panel_code()) id_by_code_[instrument.panel_code()] = id;
    scales_.emplace(id, Scale(std::move(instrument)));
  }
}

const Scale* Catalogue::Find(const std::string& id_or_code) const {
  const auto by_code = id_by_code_.find(id_or_code);
  const auto found =
      scales_.find(by_code == id_by_code_.end() ? id_or_code : by_code->second);
  return found == scales_.end() ? nullptr : &found->second;
}

std::vector<const Scale*> Catalogue::All() const {
  std::vector<const Scale*> all;
  all.reserve(scales_.size());
  for (const auto& [id, scale] : scales_) all.push_back(&scale);
  return all;
}

std::string Catalogue::Ids() const {
  std::string ids;
  for (const auto& [id, scale] : scales_) {
    if (!ids.empty()) ids += ", ";
    ids += id;
  }
  return ids;
}

}  // namespace turnstone

#include "rules/measure/score.h"

#include <absl/status/status.h>

#include <algorithm>

#include "rules/measure/form_errors.h"

namespace turnstone {
namespace {

bool IsReason(v1::DataAbsentReason reason) {
  return v1::DataAbsentReason_IsValid(reason) &&
         reason != v1::DATA_ABSENT_REASON_UNSPECIFIED;
}

// Answers mostly come in the order of the questions.
std::optional<size_t> FindItem(const Scale& scale, int at,
                               const std::string& question) {
  if (at < scale.definition().item_size() &&
      scale.definition().item(at).code() == question) {
    return static_cast<size_t>(at);
  }
  return scale.FindItem(question);
}

// Fills in `points` and `answered`.
absl::Status ReadAnswers(const Scale& scale, const v1::ScreeningResult& form,
                         Score& score) {
  score.points.resize(static_cast<size_t>(scale.definition().item_size()));
  score.answered.resize(score.points.size());
  std::vector<bool> seen(score.points.size());
  int at = -1;
  for (const v1::ItemAnswer& given : form.answers()) {
    ++at;
    const std::optional<size_t> item = FindItem(scale, at, given.question());
    if (!item) return UnknownQuestion(scale, at);
    if (seen[*item]) return AnsweredTwice(scale, at, *item);
    seen[*item] = true;
    if (given.has_answer()) {
      const AnswerKey* key = scale.FindAnswer(*item, given.answer());
      if (key == nullptr) return UnknownAnswer(scale, at, *item);
      score.answered[*item] = true;
      score.points[*item] = key->points;
    } else if (!IsReason(given.absent())) {
      return NeitherAnswerNorReason(at);
    }
  }
  return absl::OkStatus();
}

// Fills in the counts and the total that the answers leave possible.
void AddUp(const Scale& scale, Score& score) {
  for (size_t item = 0; item < score.points.size(); ++item) {
    if (scale.definition().item(static_cast<int>(item)).unscored()) continue;
    ++score.scored_items;
    if (score.answered[item]) ++score.answered_items;
    const Interval possible =
        score.points[item] ? Interval{*score.points[item], *score.points[item]}
                           : scale.ItemRange(item);
    score.total.low += possible.low * scale.Multiplier();
    score.total.high += possible.high * scale.Multiplier();
  }
}

bool Attainable(const Scale& scale, int total) {
  return scale.Range().low <= total && total <= scale.Range().high &&
         total % scale.Multiplier() == 0;
}

// REQUIRES: the reported total is attainable.
void TakeIn(int reported, Score& score) {
  score.reported = reported;
  if (score.answered_items == 0) {
    score.total = {reported, reported};
    return;
  }
  score.disagrees = reported < score.total.low || reported > score.total.high;
  score.total.low = std::min(score.total.low, reported);
  score.total.high = std::max(score.total.high, reported);
}

std::optional<int> Prorate(const Scale& scale, const Score& score) {
  const v1::Prorating& rule = scale.definition().prorating();
  const int missing = score.scored_items - score.answered_items;
  if (!scale.definition().has_prorating() || missing == 0 ||
      missing > rule.most_missing() || score.answered_items == 0) {
    return std::nullopt;
  }
  const std::optional<size_t> self_harm = scale.SelfHarmItem();
  if (self_harm && !score.answered[*self_harm]) return std::nullopt;
  int sum = 0;
  for (const std::optional<int>& points : score.points) {
    sum += points.value_or(0);
  }
  // To the nearest whole number, half up, in whole numbers throughout.
  const int estimate = (2 * sum * score.scored_items + score.answered_items) /
                       (2 * score.answered_items);
  return estimate * scale.Multiplier();
}

absl::StatusOr<Score> TakeResult(const Scale& scale,
                                 const v1::ScreeningResult& form) {
  if (!form.answers().empty() || form.has_reported_total()) {
    return OnlyAResult(scale);
  }
  if (scale.FindResult(form.result()) == nullptr) return UnknownResult(scale);
  Score score;
  score.result = form.result();
  return score;
}

}  // namespace

absl::StatusOr<Score> ScoreForm(const Scale& scale,
                                const v1::ScreeningResult& form) {
  if (!scale.HasItems()) return TakeResult(scale, form);
  if (form.has_result()) return NoResult(scale);
  Score score;
  const absl::Status read = ReadAnswers(scale, form, score);
  if (!read.ok()) return read;
  // A form with nothing but reasons counts: that a person declined to answer
  // is a fact somebody must see.
  if (form.answers().empty() && !form.has_reported_total()) {
    return NothingMeasured(scale);
  }
  AddUp(scale, score);
  if (form.has_reported_total()) {
    if (!Attainable(scale, form.reported_total())) {
      return UnattainableTotal(scale);
    }
    TakeIn(form.reported_total(), score);
  }
  score.prorated = Prorate(scale, score);
  return score;
}

}  // namespace turnstone

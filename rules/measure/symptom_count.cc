#include "rules/measure/symptom_count.h"

#include <algorithm>
#include <string>

namespace turnstone {
namespace {

bool Names(const google::protobuf::RepeatedPtrField<std::string>& codes,
           const Scale& scale, size_t item) {
  return std::any_of(codes.begin(), codes.end(), [&](const std::string& code) {
    return scale.FindItem(code) == item;
  });
}

// Symptoms counted, and whether a core one is among them.
struct Tally {
  int count = 0;
  bool core = false;
  void Add(bool is_core) {
    ++count;
    core = core || is_core;
  }
};

SymptomPattern PatternOf(const v1::SymptomCount& rule, const Tally& tally) {
  if (!tally.core) return SymptomPattern::kNone;
  if (tally.count >= rule.major_from()) return SymptomPattern::kMajor;
  if (tally.count >= rule.other_from()) return SymptomPattern::kOther;
  return SymptomPattern::kNone;
}

}  // namespace

std::optional<SymptomCountResult> CountSymptoms(const Scale& scale,
                                                const Score& score) {
  if (!scale.definition().has_symptom_count()) return std::nullopt;
  const v1::SymptomCount& rule = scale.definition().symptom_count();
  Tally least;
  Tally most;
  for (size_t index = 0; index < score.points.size(); ++index) {
    if (scale.definition().item(static_cast<int>(index)).unscored()) continue;
    const int from =
        Names(rule.counts_from_one(), scale, index) ? 1 : rule.counts_from();
    const bool core = Names(rule.core(), scale, index);
    const Interval range = scale.ItemRange(index);
    if (score.points[index].value_or(range.low) >= from) least.Add(core);
    if (score.points[index].value_or(range.high) >= from) most.Add(core);
  }
  SymptomCountResult result{{least.count, most.count}, std::nullopt};
  // One more symptom never lowers the pattern, so what the two ends agree on
  // holds for everything between them.
  if (PatternOf(rule, least) == PatternOf(rule, most)) {
    result.pattern = PatternOf(rule, least);
  }
  return result;
}

}  // namespace turnstone

#include <algorithm>
#include <optional>

#include "rules/examples/tied_cases.h"
#include "rules/measure/change.h"

namespace turnstone {
namespace {

// `which` is an ItemCondition or an ItemUnanswered.
template <typename Which>
std::optional<size_t> ItemOn(const Which& which, const Scale& scale) {
  return which.self_harm() ? scale.SelfHarmItem()
                           : scale.FindItem(which.question());
}

}  // namespace

std::vector<const Scale*> ScalesAsked(const v1::Rule& rule,
                                      const Catalogue& catalogue) {
  std::vector<const Scale*> scales;
  for (const std::string& id : rule.when().screening().instrument()) {
    if (const Scale* scale = catalogue.Find(id)) scales.push_back(scale);
  }
  return scales;
}

std::optional<size_t> ItemLookedAt(const v1::Condition& condition,
                                   const Scale& scale) {
  return condition.has_item() ? ItemOn(condition.item(), scale)
                              : ItemOn(condition.item_unanswered(), scale);
}

void AddTotals(const Singles& tied, const v1::Rule& rule,
               const Catalogue& catalogue, TruthRows& truths) {
  const std::string& instrument = tied[0]->score().instrument();
  const Scale& scale = *catalogue.Find(instrument);
  const auto& asked = rule.when().screening().instrument();
  const bool always = std::all_of(
      asked.begin(), asked.end(),
      [&](const std::string& id) { return catalogue.Find(id) == &scale; });
  // Asked about something else, there may be no such screening at all.
  if (asked.empty() || !always) {
    AddCase(
        tied, [](const auto&) { return v1::TRUTH_UNKNOWN; }, truths);
  }
  const int step = scale.Multiplier();
  for (int low = scale.Range().low; low <= scale.Range().high; low += step) {
    for (int high = low; high <= scale.Range().high; high += step) {
      AddCase(
          tied,
          [&](const v1::Condition& each) {
            Interval range = scale.Range();
            const v1::ScoreCondition& score = each.score();
            if (score.has_at_least()) range.low = score.at_least().value();
            if (score.has_at_most()) range.high = score.at_most().value();
            return Within(Interval{low, high}, range);
          },
          truths);
    }
  }
}

void AddItems(const Singles& tied, const v1::Rule& rule,
              const Catalogue& catalogue, TruthRows& truths) {
  AddCase(
      tied,
      [](const v1::Condition& each) {
        return each.has_item() ? v1::TRUTH_UNKNOWN : v1::TRUTH_TRUE;
      },
      truths);
  for (const Scale* scale : ScalesAsked(rule, catalogue)) {
    const std::optional<size_t> item = ItemLookedAt(*tied[0], *scale);
    if (!item) continue;
    const Interval range = scale->ItemRange(*item);
    for (int points = range.low; points <= range.high; ++points) {
      AddCase(
          tied,
          [points](const v1::Condition& each) {
            return TruthOf(each.has_item() &&
                           points >= each.item().at_least().value());
          },
          truths);
    }
  }
}

void AddResults(const Singles& tied, const v1::Rule& rule,
                const Catalogue& catalogue, TruthRows& truths) {
  for (const Scale* scale : ScalesAsked(rule, catalogue)) {
    if (scale->HasItems()) {
      AddCase(
          tied, [](const auto&) { return v1::TRUTH_UNKNOWN; }, truths);
    }
    for (const v1::Result& result : scale->definition().result()) {
      AddCase(
          tied,
          [&result](const v1::Condition& each) {
            const auto& codes = each.result().code();
            return TruthOf(std::find(codes.begin(), codes.end(),
                                     result.code()) != codes.end());
          },
          truths);
    }
  }
}

}  // namespace turnstone

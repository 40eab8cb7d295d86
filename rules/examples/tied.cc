#include "rules/examples/tied.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <functional>
#include <optional>

#include "rules/engine/can_be_unknown.h"
#include "rules/measure/change.h"

namespace turnstone {
namespace {

using Truths = std::set<std::vector<Truth>>;

// Adds what all of `tied` are, by what `is` says of each.
template <typename Is>
void AddCase(const Singles& tied, const Is& is, Truths& truths) {
  std::vector<Truth> found;
  found.reserve(tied.size());
  for (const v1::Condition* each : tied) found.push_back(is(*each));
  truths.insert(std::move(found));
}

std::vector<const Scale*> ScalesAsked(const v1::Rule& rule,
                                      const Catalogue& catalogue) {
  std::vector<const Scale*> scales;
  for (const std::string& id : rule.when().screening().instrument()) {
    if (const Scale* scale = catalogue.Find(id)) scales.push_back(scale);
  }
  return scales;
}

// `which` is an ItemCondition or an ItemUnanswered.
template <typename Which>
std::optional<size_t> ItemOn(const Which& which, const Scale& scale) {
  return which.self_harm() ? scale.SelfHarmItem()
                           : scale.FindItem(which.question());
}

std::optional<size_t> ItemLookedAt(const v1::Condition& condition,
                                   const Scale& scale) {
  return condition.has_item() ? ItemOn(condition.item(), scale)
                              : ItemOn(condition.item_unanswered(), scale);
}

bool IsOneTotal(const v1::Condition& condition) {
  const v1::ScoreCondition& score = condition.score();
  return condition.has_score() &&
         (!score.has_in_a_row() || score.in_a_row().value() == 1);
}

void AddTotals(const Singles& tied, const v1::Rule& rule,
               const Catalogue& catalogue, Truths& truths) {
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
              const Catalogue& catalogue, Truths& truths) {
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

void AddWishes(const Singles& tied, Truths& truths) {
  for (const Truth wish :
       {v1::TRUTH_TRUE, v1::TRUTH_FALSE, v1::TRUTH_UNKNOWN}) {
    AddCase(
        tied,
        [wish](const v1::Condition& each) {
          return each.has_willing() ? wish : TruthOf(wish != v1::TRUTH_UNKNOWN);
        },
        truths);
  }
}

void AddProgrammes(const Singles& tied, Truths& truths) {
  // Reason 0: not discharged.
  for (int reason = 0; reason <= v1::DischargeReason_MAX; ++reason) {
    for (const bool enrolled : {false, true}) {
      if (enrolled && reason != 0) continue;
      AddCase(
          tied,
          [&](const v1::Condition& each) {
            if (each.has_enrolled()) return TruthOf(enrolled);
            const auto& named = each.discharged_as().reason();
            return TruthOf(std::find(named.begin(), named.end(), reason) !=
                           named.end());
          },
          truths);
    }
  }
}

void AddResults(const Singles& tied, const v1::Rule& rule,
                const Catalogue& catalogue, Truths& truths) {
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

// Enough numbers to stand on either side of every threshold.
void AddAttended(const Singles& tied, Truths& truths) {
  std::set<int> counts = {0, 1, 2};
  for (const v1::Condition* each : tied) {
    const int least = each->attended_visits().at_least().value();
    counts.insert({std::max(0, least - 1), least, least + 1});
  }
  for (const int planned : counts) {
    if (planned == 0) continue;
    for (const int at_event : counts) {
      for (const int by_asking : counts) {
        if (by_asking < at_event) continue;
        AddCase(
            tied,
            [&](const v1::Condition& each) {
              const v1::AttendedVisits& visits = each.attended_visits();
              const int least =
                  visits.has_at_least() ? visits.at_least().value() : planned;
              return TruthOf((visits.by_asking() ? by_asking : at_event) >=
                             least);
            },
            truths);
      }
    }
  }
}

void AddNumbers(const Singles& tied, Truths& truths) {
  if (tied[0]->has_confidence_below()) {
    AddCase(
        tied, [](const auto&) { return v1::TRUTH_UNKNOWN; }, truths);
  }
  for (int number = 0; number <= 100; ++number) {
    AddCase(
        tied,
        [number](const v1::Condition& each) {
          return each.has_confidence_below()
                     ? TruthOf(number <
                               each.confidence_below().percent().value())
                     : TruthOf(number >=
                               each.missed_in_a_row().at_least().value());
        },
        truths);
  }
}

void AddFree(const Singles& tied, Truths& truths) {
  for (const Truth truth :
       {v1::TRUTH_TRUE, v1::TRUTH_FALSE, v1::TRUTH_UNKNOWN}) {
    if (truth == v1::TRUTH_UNKNOWN && !CanBeUnknown(*tied[0])) continue;
    AddCase(
        tied, [truth](const auto&) { return truth; }, truths);
  }
}

}  // namespace

std::string RestsOn(const v1::Condition& condition, const v1::Rule& rule,
                    const Catalogue& catalogue) {
  if (IsOneTotal(condition)) {
    const Scale* scale = catalogue.Find(condition.score().instrument());
    return absl::StrCat("total of ", scale->definition().id());
  }
  if (condition.has_item() || condition.has_item_unanswered()) {
    std::string which = "item";
    for (const Scale* scale : ScalesAsked(rule, catalogue)) {
      const std::optional<size_t> item = ItemLookedAt(condition, *scale);
      absl::StrAppend(&which, " ", item ? static_cast<int>(*item) : -1);
    }
    return which;
  }
  switch (condition.kind_case()) {
    case v1::Condition::kWilling:
    case v1::Condition::kWishRecorded:
      return "wish";
    case v1::Condition::kEnrolled:
    case v1::Condition::kDischargedAs:
      return "programme";
    case v1::Condition::kResult:
      return "result";
    case v1::Condition::kAttendedVisits:
      return "attended";
    case v1::Condition::kMissedInARow:
      return "missed";
    case v1::Condition::kConfidenceBelow:
      return "confidence";
    default:
      return absl::StrCat("itself: ", condition.ShortDebugString());
  }
}

std::set<std::vector<Truth>> TiedTruths(const Singles& tied,
                                        const v1::Rule& rule,
                                        const Catalogue& catalogue) {
  Truths truths;
  switch (tied[0]->kind_case()) {
    case v1::Condition::kScore:
      if (IsOneTotal(*tied[0])) {
        AddTotals(tied, rule, catalogue, truths);
      } else {
        AddFree(tied, truths);
      }
      break;
    case v1::Condition::kItem:
    case v1::Condition::kItemUnanswered:
      AddItems(tied, rule, catalogue, truths);
      break;
    case v1::Condition::kWilling:
    case v1::Condition::kWishRecorded:
      AddWishes(tied, truths);
      break;
    case v1::Condition::kEnrolled:
    case v1::Condition::kDischargedAs:
      AddProgrammes(tied, truths);
      break;
    case v1::Condition::kResult:
      AddResults(tied, rule, catalogue, truths);
      break;
    case v1::Condition::kAttendedVisits:
      AddAttended(tied, truths);
      break;
    case v1::Condition::kMissedInARow:
    case v1::Condition::kConfidenceBelow:
      AddNumbers(tied, truths);
      break;
    default:
      AddFree(tied, truths);
  }
  return truths;
}

}  // namespace turnstone

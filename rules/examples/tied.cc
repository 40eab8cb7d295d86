#include "rules/examples/tied.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <optional>

#include "rules/engine/can_be_unknown.h"
#include "rules/examples/tied_cases.h"

namespace turnstone {
namespace {

bool IsOneTotal(const v1::Condition& condition) {
  const v1::ScoreCondition& score = condition.score();
  return condition.has_score() &&
         (!score.has_in_a_row() || score.in_a_row().value() == 1);
}

void AddWishes(const Singles& tied, TruthRows& truths) {
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

void AddProgrammes(const Singles& tied, TruthRows& truths) {
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

// Enough numbers to stand on either side of every threshold.
void AddAttended(const Singles& tied, TruthRows& truths) {
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

void AddNumbers(const Singles& tied, TruthRows& truths) {
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

void AddFree(const Singles& tied, TruthRows& truths) {
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
  TruthRows truths;
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

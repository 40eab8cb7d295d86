#include <optional>

#include "rules/prove/big_count.h"
#include "rules/prove/case_events.h"
#include "rules/prove/form_row.h"
#include "rules/prove/form_sketch.h"
#include "rules/prove/over_rows.h"
#include "rules/prove/rows.h"

namespace turnstone {
namespace {

// Enrolled before the first form, after the first, or after the second.
constexpr size_t kLatestEnrolment = 2;

std::vector<v1::Event> EventsOfRow(const Row& row,
                                   const std::vector<RowForm>& forms,
                                   size_t enrolled_after,
                                   const CaseEvents& made) {
  std::vector<v1::Event> events;
  int week = 0;
  for (const int step : row) {
    if (events.size() == enrolled_after) events.push_back(made.Enrolment(week));
    events.push_back(made.Form(forms[static_cast<size_t>(step)].form, week));
    ++week;
  }
  return events;
}

std::set<size_t> ItemsLookedAt(const v1::Property& property, const Site& site,
                               const Scale& scale) {
  std::set<size_t> items;
  AddItemsLookedAt(property.given(), scale, items);
  for (const v1::Rule& rule : site.rules.rule()) {
    AddItemsLookedAt(rule.condition(), scale, items);
  }
  return items;
}

// The walk whose case is to be told: the shortest that fails, else the first
// that is unsure.
size_t InQuestion(const std::vector<Walked>& walks) {
  std::optional<size_t> failing;
  std::optional<size_t> unsure;
  for (size_t i = 0; i < walks.size(); ++i) {
    if (walks[i].unsure && !unsure) unsure = i;
    if (!walks[i].failing) continue;
    if (!failing ||
        walks[i].failing->size() < walks[*failing].failing->size()) {
      failing = i;
    }
  }
  return failing.value_or(unsure.value_or(0));
}

Walked Sum(const std::vector<Walked>& walks, size_t in_question) {
  Walked sum = walks[in_question];
  for (size_t i = 0; i < walks.size(); ++i) {
    if (i == in_question) continue;
    sum.cases = Plus(sum.cases, walks[i].cases);
    sum.evaluations = Plus(sum.evaluations, walks[i].evaluations);
    sum.states = Plus(sum.states, walks[i].states);
    sum.too_many = sum.too_many || walks[i].too_many;
  }
  return sum;
}

}  // namespace

void ProveOverScores(const v1::Property& property, const Site& site,
                     const Catalogue& catalogue, const Scale& scale,
                     Proof& proof) {
  const RulesInQuestion rules = RulesThatCould(property.raise(), site);
  const RowMemory memory = MemoryOf(property, rules, scale.definition().id());
  const bool higher_is_worse =
      scale.definition().direction() == v1::DIRECTION_HIGHER_IS_WORSE;
  const std::vector<RowForm> forms =
      FormsOfRows(scale, ItemsLookedAt(property, rules.all, scale));
  const CaseEvents made(site, proof.id);
  const auto rows_enrolled = [&](size_t after) {
    const auto events = [&, after](const Row& row) {
      return EventsOfRow(row, forms, after, made);
    };
    const FormDigest digest(forms, higher_is_worse, memory, after);
    return Rows{static_cast<int>(forms.size()),
                property.every_score_path().forms_at_most(), events,
                [digest](const Row& row) { return digest.Of(row); }};
  };
  std::vector<Walked> walks;
  for (size_t after = 0; after <= kLatestEnrolment; ++after) {
    walks.push_back(WalkRows(property, rules, catalogue, rows_enrolled(after)));
  }
  const size_t in_question = InQuestion(walks);
  Conclude(Sum(walks, in_question), property, site, catalogue,
           rows_enrolled(in_question).events, proof);
}

}  // namespace turnstone

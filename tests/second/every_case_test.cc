// The engine against the second evaluator, on every case of a kind: every PHQ-9
// by class, every row of visits, every path of totals over a grid. That the
// answers are right is held elsewhere against published figures; here two
// readings of the contract are held against each other.
#include <algorithm>
#include <functional>
#include <optional>

#include "tests/second/agreement.h"
#include "tests/support/events.h"

namespace turnstone::second {
namespace {

constexpr absl::Duration kDay = absl::Hours(24);

absl::Time Monday() { return At("2027-01-04T10:00:00Z"); }

// Calls `use` with every row of 1 to `longest` of `values`.
template <typename Value>
void EveryRow(const std::vector<Value>& values, size_t longest,
              std::vector<Value>& row,
              const std::function<void(const std::vector<Value>&)>& use) {
  if (!row.empty()) use(row);
  if (row.size() == longest) return;
  for (const Value& value : values) {
    row.push_back(value);
    EveryRow(values, longest, row, use);
    row.pop_back();
  }
}

// Items 1 to 8: `missing` of them without an answer, the others `sum` together.
std::vector<std::optional<int>> Items(int missing, int sum,
                                      std::optional<int> self_harm) {
  std::vector<std::optional<int>> items;
  for (int i = 0; i < 8; ++i) {
    const int points = std::min(sum, 3);
    items.push_back(i < missing ? std::nullopt : std::optional<int>(points));
    if (i >= missing) sum -= points;
  }
  items.push_back(self_harm);
  return items;
}

class EveryCase : public Agreement {
 protected:
  // With each wish, before enrolment and after it.
  void HoldForm(v1::Event form) {
    for (const bool enrolled : {false, true}) {
      for (const int wish : {-1, 0, 1}) {
        form.mutable_screening_result()->clear_willing();
        if (wish >= 0) form.mutable_screening_result()->set_willing(wish == 1);
        std::vector<v1::Event> events;
        if (enrolled) events.push_back(Enrolled("e", Monday() - kDay));
        events.push_back(form);
        HoldEvents(events);
      }
    }
  }
  // A form a week; in the programme: enrolled after the first, two visits
  // before each of the others, and out at the end.
  void HoldPath(const std::vector<int>& totals, bool in_programme) {
    std::vector<v1::Event> events;
    absl::Time when = Monday();
    for (const int total : totals) {
      const std::string id = std::to_string(events.size());
      if (in_programme && !events.empty()) {
        events.push_back(Outcome("v" + id, when - 2 * kDay, "visit-" + id,
                                 v1::VISIT_OUTCOME_KIND_ATTENDED));
        events.push_back(Outcome("w" + id, when - kDay, "second-" + id,
                                 v1::VISIT_OUTCOME_KIND_ATTENDED));
      }
      events.push_back(
          Phq9Total("f" + id, when, total, std::max(0, total - 24)));
      if (in_programme && events.size() == 1) {
        events.push_back(Enrolled("e", when + kDay));
      }
      when += 7 * kDay;
    }
    if (in_programme) events.push_back(Discharged("d", when));
    HoldEvents(events);
  }
  void HoldPaths(const std::vector<int>& grid, size_t longest) {
    std::vector<int> row;
    EveryRow<int>(grid, longest, row, [&](const std::vector<int>& totals) {
      HoldPath(totals, false);
      HoldPath(totals, true);
    });
  }
};

TEST_F(EveryCase, EveryPhq9ByClass) {
  std::vector<std::optional<int>> self_harm = {std::nullopt, 0, 1, 2, 3};
  for (const std::optional<int>& harm : self_harm) {
    for (int missing = 0; missing <= 8; ++missing) {
      for (int sum = 0; sum <= 3 * (8 - missing); ++sum) {
        if (missing == 8 && !harm) continue;  // no form at all
        HoldForm(Phq9("f", Monday(), Items(missing, sum, harm)));
      }
    }
  }
  for (int total = 0; total <= 27; ++total) {
    v1::Event form = EventAt("f", Monday());
    form.mutable_screening_result()->set_instrument("phq-9");
    form.mutable_screening_result()->set_reported_total(total);
    HoldForm(form);
  }
}

// After a form positive on self-harm, in a programme of four visits.
TEST_F(EveryCase, EveryRowOfVisits) {
  std::vector<v1::VisitOutcomeKind> kinds;
  for (int kind = 1; kind < v1::VisitOutcomeKind_ARRAYSIZE; ++kind) {
    kinds.push_back(static_cast<v1::VisitOutcomeKind>(kind));
  }
  v1::Event enrolment = Enrolled("e", Monday() + kDay);
  enrolment.mutable_enrolment()->set_planned_visits(4);
  std::vector<v1::VisitOutcomeKind> row;
  EveryRow<v1::VisitOutcomeKind>(kinds, 5, row, [&](const auto& outcomes) {
    std::vector<v1::Event> events = {Phq9Total("f", Monday(), 12, 1),
                                     enrolment};
    for (const v1::VisitOutcomeKind outcome : outcomes) {
      const std::string id = std::to_string(events.size());
      const absl::Time when =
          Monday() + kDay * 7 * static_cast<int>(events.size());
      events.push_back(Outcome("v" + id, when, "visit-" + id, outcome));
    }
    HoldEvents(events);
  });
}

TEST_F(EveryCase, EveryPathOfThreeTotals) {
  HoldPaths({0, 3, 6, 8, 11, 13, 16, 18, 22, 27}, 3);
}

// Either side of the shipped thresholds, 5, 10 and 20; some of the totals are 5
// and 6 points apart, the shipped reliable changes.
TEST_F(EveryCase, EveryPathOfFourTotalsAtTheThresholds) {
  HoldPaths({4, 5, 9, 10, 19, 20}, 4);
}

}  // namespace
}  // namespace turnstone::second

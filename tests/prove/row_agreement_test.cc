// Rows taken together against rows gone through one by one: the same answer,
// and a case of the same length, for every pair of a condition given and a rule
// that must speak.
#include <gtest/gtest.h>

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "rules/engine/condition.h"
#include "rules/prove/case_events.h"
#include "rules/prove/prove.h"
#include "tests/prove/small_rows.h"

namespace turnstone {
namespace {

// One rule that must speak where `given` is true.
struct Pair {
  std::string given;
  std::string rule;
};

class RowAgreement : public testing::Test {
 protected:
  static Proof Merged(const std::string& over, const std::string& when,
                      const Pair& pair) {
    const turnstone::Setup setup = SmallSetup(when, pair.rule);
    v1::PropertySet set;
    *set.add_property() = Read<v1::Property>(
        "id: \"p\" " + over + " given { " + pair.given +
        " } raise { kind: ALERT_KIND_OUTREACH at_least: PRIORITY_ASAP }");
    return Prove(*setup.FindSite("bay"), setup.catalogue(), {set},
                 absl::UnixEpoch(), [](const std::string&) {})
        .at(0);
  }

  // One row, and what each condition says at its end.
  struct Told {
    size_t length;  // events about which the rules are asked
    std::vector<Truth> truth;
  };

  void Tell(const std::vector<v1::Event>& events, size_t length,
            const std::vector<std::string>& conditions) {
    const Site& site = *setup_.FindSite("bay");
    History history;
    for (const v1::Event& event : events) {
      ASSERT_TRUE(history.Apply(event, setup_.catalogue()).ok());
    }
    const size_t at = history.facts().size() - 1;
    const View view(site, history, at, history.facts()[at].effective);
    Told told{length, {}};
    for (const std::string& text : conditions) {
      told.truth.push_back(Evaluate(Read<v1::Condition>(text), view, nullptr));
    }
    told_.push_back(told);
  }

  // The length of the shortest row in which `given` is true and `rule` false.
  [[nodiscard]] std::optional<size_t> Shortest(size_t given,
                                               size_t rule) const {
    std::optional<size_t> shortest;
    for (const Told& told : told_) {
      const bool fails = told.truth[given] == v1::TRUTH_TRUE &&
                         told.truth[rule] == v1::TRUTH_FALSE;
      if (fails && (!shortest || told.length < *shortest)) {
        shortest = told.length;
      }
    }
    return shortest;
  }

  void Compare(const std::string& over, const std::string& when,
               const std::vector<std::string>& conditions) {
    int fail = 0;
    for (size_t given = 0; given < conditions.size(); ++given) {
      // Each with its neighbours and one further on.
      for (const size_t step : {1U, 2U, 5U}) {
        const size_t rule = (given + step) % conditions.size();
        const Proof proof =
            Merged(over, when, {conditions[given], conditions[rule]});
        const auto shortest = Shortest(given, rule);
        EXPECT_EQ(proof.result,
                  shortest ? ProofResult::kFails : ProofResult::kHolds)
            << conditions[given] << " / " << conditions[rule];
        if (!shortest || !proof.counterexample) continue;
        ++fail;
        size_t length = 0;
        for (const v1::Event& event : proof.counterexample->events) {
          if (!event.has_enrolment()) ++length;
        }
        EXPECT_EQ(length, *shortest)
            << conditions[given] << " / " << conditions[rule];
      }
    }
    EXPECT_GT(fail, 0);
  }

  const turnstone::Setup setup_ = SmallSetup("enrolment {}", "enrolled {}");
  std::vector<Told> told_;
};

TEST_F(RowAgreement, Visits) {
  const CaseEvents made(*setup_.FindSite("bay"), "case");
  for (int length = 1; length <= 4; ++length) {
    for (const std::vector<int>& row : RowsOf(6, length)) {
      std::vector<v1::Event> events = {made.Enrolment(0)};
      int week = 0;
      for (const int outcome : row) {
        events.push_back(made.Outcome(
            static_cast<v1::VisitOutcomeKind>(outcome + 1), week++));
      }
      Tell(events, row.size(), OnVisits());
    }
  }
  Compare("every_visit_history { visits_at_most: 4 }", "visit_outcome {}",
          OnVisits());
}

// Both questions answered with no, yes or not at all: nine forms.
v1::ScreeningResult SmallForm(int number) {
  v1::ScreeningResult form;
  form.set_instrument("small");
  const auto add = [&](const char* question, int answer) {
    v1::ItemAnswer& given = *form.add_answers();
    given.set_question(question);
    if (answer == 2) {
      given.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
    } else {
      given.set_answer(answer == 1 ? "yes" : "no");
    }
  };
  add("q-1", number % 3);
  add("q-2", number / 3);
  return form;
}

TEST_F(RowAgreement, Scores) {
  const CaseEvents made(*setup_.FindSite("bay"), "case");
  for (int length = 1; length <= 4; ++length) {
    for (const std::vector<int>& row : RowsOf(9, length)) {
      for (int enrolled_after = 0; enrolled_after <= 2; ++enrolled_after) {
        std::vector<v1::Event> events;
        int week = 0;
        for (const int form : row) {
          if (week == enrolled_after) events.push_back(made.Enrolment(week));
          events.push_back(made.Form(SmallForm(form), week++));
        }
        Tell(events, row.size(), OnForms());
      }
    }
  }
  Compare("every_score_path { instrument: \"small\" forms_at_most: 4 }",
          "screening { instrument: \"small\" }", OnForms());
}

}  // namespace
}  // namespace turnstone

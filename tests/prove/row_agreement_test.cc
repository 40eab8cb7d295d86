// Rows taken together against rows gone through one by one: the same answer,
// and a case of the same length, for every pair of a condition given and a rule
// that must speak.
#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "rules/engine/condition.h"
#include "rules/prove/case_events.h"
#include "rules/prove/prove.h"
#include "tests/support/events.h"

namespace turnstone {
namespace {

// Two questions with two answers each, the first about self-harm.
constexpr char kInstrument[] = R"(
  id: "small" name: "Small" direction: DIRECTION_HIGHER_IS_WORSE
  item { code: "q-1" label: "First" answers: "a" self_harm: true }
  item { code: "q-2" label: "Second" answers: "a" }
  answer_list { id: "a" answer { code: "no" score: 0 }
                        answer { code: "yes" score: 1 } })";

constexpr char kSite[] = R"(
  id: "bay" time_zone: "Europe/Dublin" rule_set: "rules" planned_visits: 2
  calendar { working_day: MONDAY day_start: "09:00" day_end: "17:00" })";

// One condition for everything that a row is remembered by.
const std::vector<std::string>& OnForms() {
  static const std::string small = R"(instrument: "small" )";
  static const std::string change = small + "at_least { value: 1 } ";
  static const std::vector<std::string> conditions = {
      "worse_by { " + change + "than: COMPARED_WITH_BASELINE }",
      "worse_by { " + change + "than: COMPARED_WITH_PREVIOUS }",
      "worse_by { " + change + "than: COMPARED_WITH_BEST }",
      "better_by { " + change + "than: COMPARED_WITH_BASELINE }",
      "better_by { " + change + "than: COMPARED_WITH_BEST }",
      "worse_by { " + change +
          "than: COMPARED_WITH_BASELINE in_a_row { value: 2 } }",
      "worse_by { " + change +
          "than: COMPARED_WITH_BEST in_a_row { value: 2 } }",
      "better_by { " + change +
          "than: COMPARED_WITH_PREVIOUS in_a_row { value: 2 } }",
      "worse_by { " + small +
          "than: COMPARED_WITH_BEST at_least_percent { value: 100 } }",
      "worse_in_a_row { " + small + "times { value: 2 } }",
      "score { " + change + "in_a_row { value: 2 } }",
      "outcome { " + small +
          "is: COURSE_OUTCOME_WORSE is: COURSE_OUTCOME_NO_CHANGE "
          "remission_at_most { value: 0 } response_percent { value: 50 } "
          "reliable_change { value: 1 } }",
      "screenings { " + small +
          "at_least { value: 2 } total_at_most { value: 0 } }",
      "screenings { " + small + "at_least { value: 3 } }",
      "self_harm_earlier { within_days { value: 7 } }",
      "self_harm_earlier { within_days { value: 20 } }",
      "screened_within { " + small + "days { value: 7 } }",
      "screened_within { " + small + "days { value: 14 } }",
      "enrolled {}",
      "item { self_harm: true at_least { value: 1 } }",
  };
  return conditions;
}

const std::vector<std::string>& OnVisits() {
  static const std::vector<std::string> conditions = {
      "missed_in_a_row { at_least { value: 1 } }",
      "missed_in_a_row { at_least { value: 2 } }",
      "missed_in_a_row { at_least { value: 3 } }",
      "attended_visits { at_least { value: 1 } }",
      "attended_visits {}",
      "not { attended_visits { at_least { value: 3 } } }",
      R"(any_of { condition { missed_in_a_row { at_least { value: 2 } } }
                  condition { attended_visits { at_least { value: 2 } } } })",
      "enrolled {}",
  };
  return conditions;
}

template <typename Message>
Message Read(const std::string& text) {
  Message message;
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &message))
      << text;
  return message;
}

// One rule that must speak where `given` is true.
struct Pair {
  std::string given;
  std::string rule;
};

class RowAgreement : public testing::Test {
 protected:
  // With that rule, asked about `when`.
  static turnstone::Setup With(const std::string& when,
                               const std::string& condition) {
    v1::Configuration all;
    *all.add_instrument() = Read<v1::Instrument>(kInstrument);
    *all.add_site() = Read<v1::SiteConfig>(kSite);
    v1::RuleSet& rules = *all.add_rule_set();
    rules.set_id("rules");
    *rules.add_rule() = Read<v1::Rule>(
        "id: \"rule\" kind: ALERT_KIND_OUTREACH priority: PRIORITY_ASAP when "
        "{ " +
        when + " } condition { " + condition + " }");
    return turnstone::Setup(all, "");
  }

  static Proof Merged(const std::string& over, const std::string& when,
                      const Pair& pair) {
    const turnstone::Setup setup = With(when, pair.rule);
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

  const turnstone::Setup setup_ = With("enrolment {}", "enrolled {}");
  std::vector<Told> told_;
};

// Every row of `length` numbers below `below`.
std::vector<std::vector<int>> RowsOf(int below, int length) {
  std::vector<std::vector<int>> rows = {{}};
  for (int i = 0; i < length; ++i) {
    std::vector<std::vector<int>> longer;
    for (const std::vector<int>& row : rows) {
      for (int next = 0; next < below; ++next) {
        longer.push_back(row);
        longer.back().push_back(next);
      }
    }
    rows = longer;
  }
  return rows;
}

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

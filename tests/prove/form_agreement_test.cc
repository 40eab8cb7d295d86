// Forms taken together against the engine, form by form: what stands for a form
// must raise the same alerts, and every form must be counted once.
#include <gtest/gtest.h>

#include <random>
#include <vector>

#include "rules/prove/form_answers.h"
#include "tests/prove/proving.h"
#include "tests/support/events.h"

namespace turnstone {
namespace {

// The shipped rules, and two that look at other items and at everything that
// stands beside the form.
void LookAtMore(v1::Configuration& all) {
  v1::Rule& tired = *all.mutable_rule_set(0)->add_rule();
  tired = RuleOf(all, "score-above-range");
  tired.set_id("tired");
  *tired.mutable_condition() = v1::Condition();
  v1::Conditions& parts = *tired.mutable_condition()->mutable_any_of();
  v1::ItemCondition& item = *parts.add_condition()->mutable_item();
  item.set_question("44254-1");
  item.mutable_at_least()->set_value(2);
  parts.add_condition()->mutable_total_disagrees();
  v1::Rule& difficulty = *all.mutable_rule_set(0)->add_rule();
  difficulty = RuleOf(all, "score-above-range");
  difficulty.set_id("difficulty");
  *difficulty.mutable_condition() = v1::Condition();
  difficulty.mutable_condition()->mutable_item_unanswered()->set_question(
      "69722-7");
}

class FormAgreement : public testing::Test {
 protected:
  const Scale& Use(const std::string& instrument) {
    const Scale& scale = *broken_.setup().catalogue().Find(instrument);
    std::set<size_t> items;
    for (const v1::Rule& rule : broken_.site().rules.rule()) {
      AddItemsLookedAt(rule.condition(), scale, items);
    }
    answers_.emplace(broken_.site(), broken_.setup().catalogue(), scale, items);
    return scale;
  }

  // Asks the engine about the form whose items are answered with the answers at
  // these places; -1: not at all.
  void Compare(const Scale& scale, const std::vector<int>& places,
               const Beside& beside) {
    v1::ScreeningResult form;
    form.set_instrument(scale.definition().id());
    for (size_t i = 0; i < places.size(); ++i) {
      v1::ItemAnswer& answer = *form.add_answers();
      answer.set_question(scale.definition().item(static_cast<int>(i)).code());
      if (places[i] < 0) {
        answer.set_absent(v1::DATA_ABSENT_REASON_NOT_ASKED);
      } else {
        answer.set_answer(
            scale.AnswersTo(i)[static_cast<size_t>(places[i])].code());
      }
    }
    History history;
    const CaseEvents events(broken_.site(), "case");
    for (const v1::Event& event : FormAnswers::EventsOf(form, beside, events)) {
      ASSERT_TRUE(history.Apply(event, broken_.setup().catalogue()).ok());
    }
    const FormSketch sketch =
        SketchOf(answers_->groups().looked_at(),
                 history.facts().back().As<Screening>()->score);
    ASSERT_TRUE(AskAtOnce(broken_.site(), history) ==
                answers_->Find(sketch, beside).said);
  }

  const Broken broken_{LookAtMore};
  std::optional<FormAnswers> answers_;
};

// Every form with two questions of four answers (of the GAD-2 five codes).
TEST_F(FormAgreement, EveryShortForm) {
  for (const char* instrument : {"phq-2", "gad-2"}) {
    const Scale& scale = Use(instrument);
    uint64_t forms = 0;
    const auto first = static_cast<int>(scale.AnswersTo(0).size());
    const auto second = static_cast<int>(scale.AnswersTo(1).size());
    for (int a = -1; a < first; ++a) {
      for (int b = -1; b < second; ++b) {
        for (const Beside& beside : EveryBeside()) {
          Compare(scale, {a, b}, beside);
          ++forms;
        }
      }
    }
    // And totals alone, 0 to 6, each with the wish and enrolment: 7 x 6.
    EXPECT_EQ(answers_->cases(), forms + 42) << instrument;
    answers_.reset();
  }
}

// A tenth of the 5^9 patterns of nine items, drawn with a fixed seed.
TEST_F(FormAgreement, PatternsOfThePhq9) {
  const Scale& scale = Use("phq-9");
  ASSERT_EQ(answers_->groups().looked_at().size(), 3U);
  std::mt19937 random(20250106);
  const std::vector<Beside> besides = EveryBeside();
  for (int i = 0; i < 195312; ++i) {
    std::vector<int> places;
    places.reserve(10);
    for (int item = 0; item < 10; ++item) {
      places.push_back(static_cast<int>(random() % 5) - 1);
    }
    Compare(scale, places, besides[random() % besides.size()]);
    if (HasFatalFailure()) return;
  }
}

// Pairs of forms one step apart: the second has one more point.
TEST_F(FormAgreement, EveryStepOfAShortForm) {
  const Scale& scale = Use("phq-2");
  uint64_t pairs = 0;
  for (const auto& [sketches, pair] : answers_->groups().pairs()) {
    pairs += pair.pairs;
    EXPECT_EQ(sketches.second.low, sketches.first.low + 1);
    EXPECT_EQ(sketches.second.missing, sketches.first.missing);
    EXPECT_EQ(
        SketchOf(
            {},
            ScoreForm(scale, answers_->groups().FormOf(pair.smallest)).value()),
        sketches.first);
    EXPECT_EQ(
        SketchOf({},
                 ScoreForm(scale, answers_->groups().WorseForm(pair)).value()),
        sketches.second);
  }
  // Three steps of one question, with four answers or none to the other.
  EXPECT_EQ(pairs, 2U * 3 * 5);
}

// Higher is better: a step worse is a point less.
TEST_F(FormAgreement, WorseIsLowerWhereHigherIsBetter) {
  Use("who-5");
  for (const auto& [sketches, pair] : answers_->groups().pairs()) {
    EXPECT_LT(sketches.second.low, sketches.first.low);
  }
  // Five steps of one of five questions, six answers or none to the others.
  uint64_t pairs = 0;
  for (const auto& [sketches, pair] : answers_->groups().pairs()) {
    pairs += pair.pairs;
  }
  EXPECT_EQ(pairs, 5U * 5 * 7 * 7 * 7 * 7);
}

}  // namespace
}  // namespace turnstone

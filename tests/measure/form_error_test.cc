// What the sender of a form that does not fit is told. The wording is ours;
// what it must hold: the field as in JSON, what is wrong, what to send instead,
// and neither what was answered nor how much it counts.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string ErrorFor(const std::string& id, const v1::ScreeningResult& form) {
  const absl::Status status = ScoreForm(LoadScale(id), form).status();
  EXPECT_EQ(status.code(), absl::StatusCode::kInvalidArgument);
  return std::string(status.message());
}

v1::ScreeningResult TwoGoodAnswers() {
  v1::ScreeningResult form;
  AddAnswer(form, "44250-9", "LA6568-5");
  AddAnswer(form, "44255-8", "LA6568-5");
  return form;
}

TEST(FormErrors, UnknownQuestion) {
  v1::ScreeningResult form = TwoGoodAnswers();
  AddAnswer(form, "44259-1", "LA6568-5");
  EXPECT_EQ(ErrorFor("phq-2", form),
            "answers[2].question is not a question of PHQ-2; send one of "
            "44250-9 (Little interest), 44255-8 (Down, depressed, hopeless)");
}

TEST(FormErrors, UnknownAnswer) {
  v1::ScreeningResult form = TwoGoodAnswers();
  AddAnswer(form, "44259-0", "LA18938-3");
  EXPECT_EQ(ErrorFor("phq-9", form),
            "answers[2].answer is not an answer to question 44259-0 (Sleep); "
            "send one of LA6568-5 (Not at all), LA6569-3 (Several days), "
            "LA6570-1 (More than half the days), LA6571-9 (Nearly every day)");
}

TEST(FormErrors, OffersTheAnswersOnlyThisQuestionAccepts) {
  v1::ScreeningResult form;
  AddAnswer(form, "68509-9", "2");
  EXPECT_THAT(ErrorFor("gad-7", form),
              HasSubstr("LA18938-3 (More days than not)"));
}

TEST(FormErrors, EmptyAnswer) {
  v1::ScreeningResult form;
  AddAnswer(form, "44250-9", "");
  EXPECT_THAT(ErrorFor("phq-9", form),
              HasSubstr("answers[0].answer is not an answer"));
}

TEST(FormErrors, QuestionTwice) {
  v1::ScreeningResult form = TwoGoodAnswers();
  AddAnswer(form, "44250-9", "LA6571-9");
  EXPECT_EQ(ErrorFor("phq-9", form),
            "answers[2].question is in this form a second time (Little "
            "interest); send each question once");
}

TEST(FormErrors, QuestionTwiceUnderTwoCodes) {
  v1::ScreeningResult form = TwoGoodAnswers();
  AddAnswer(form, "69722-7", "LA6572-7");
  AddAnswer(form, "44256-6", "LA6572-7");
  EXPECT_THAT(ErrorFor("phq-9", form),
              HasSubstr("answers[3].question is in this form a second time"));
}

TEST(FormErrors, AnswerAndReasonForTheSameQuestion) {
  v1::ScreeningResult form = TwoGoodAnswers();
  v1::ItemAnswer& declined = *form.add_answers();
  declined.set_question("44250-9");
  declined.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  EXPECT_THAT(ErrorFor("phq-9", form),
              HasSubstr("answers[2].question is in this form a second time"));
}

TEST(FormErrors, NeitherAnswerNorReason) {
  const std::string expected =
      "answers[2] has neither an answer nor a reason for having none; send "
      "\"answer\", or \"absent\" with DATA_ABSENT_REASON_ASKED_DECLINED, "
      "DATA_ABSENT_REASON_ASKED_UNKNOWN or DATA_ABSENT_REASON_NOT_ASKED";
  v1::ScreeningResult form = TwoGoodAnswers();
  v1::ItemAnswer& item = *form.add_answers();
  item.set_question("44260-8");
  EXPECT_EQ(ErrorFor("phq-9", form), expected);
  item.set_absent(v1::DATA_ABSENT_REASON_UNSPECIFIED);
  EXPECT_EQ(ErrorFor("phq-9", form), expected);
  item.set_absent(static_cast<v1::DataAbsentReason>(99));
  EXPECT_EQ(ErrorFor("phq-9", form), expected);
}

TEST(FormErrors, TotalOutOfRange) {
  v1::ScreeningResult form = TwoGoodAnswers();
  form.set_reported_total(28);
  EXPECT_EQ(ErrorFor("phq-9", form),
            "reportedTotal is not a total that PHQ-9 can give; send a whole "
            "number from 0 to 27, or leave it out");
}

TEST(FormErrors, TotalBetweenMultiples) {
  v1::ScreeningResult form;
  form.set_reported_total(50);
  EXPECT_EQ(ErrorFor("who-5", form),
            "reportedTotal is not a total that WHO-5 can give; send a multiple "
            "of 4 from 0 to 100, or leave it out");
}

TEST(FormErrors, NothingMeasured) {
  const std::string expected =
      "answers is empty and reportedTotal is missing, so PHQ-9 measured "
      "nothing; send at least one answer, a reason for having none, or the "
      "total";
  EXPECT_EQ(ErrorFor("phq-9", v1::ScreeningResult()), expected);
}

TEST(FormErrors, NothingButReasonsIsAFactWorthKeeping) {
  v1::ScreeningResult form;
  v1::ItemAnswer& item = *form.add_answers();
  item.set_question("44260-8");
  item.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  const absl::StatusOr<Score> score = ScoreForm(LoadScale("phq-9"), form);
  ASSERT_TRUE(score.ok());
  EXPECT_EQ(score->total, (Interval{0, 27}));
  EXPECT_EQ(score->answered_items, 0);
}

TEST(FormErrors, NeverRepeatWhatWasSent) {
  v1::ScreeningResult form;
  AddAnswer(form, "44260-8", "hurting myself");
  EXPECT_THAT(ErrorFor("phq-9", form), Not(HasSubstr("hurting myself")));
  v1::ScreeningResult misplaced;
  AddAnswer(misplaced, "hurting myself", "LA6571-9");
  EXPECT_THAT(ErrorFor("phq-9", misplaced), Not(HasSubstr("hurting myself")));
  v1::ScreeningResult total;
  total.set_reported_total(777);
  EXPECT_THAT(ErrorFor("phq-9", total), Not(HasSubstr("777")));
}

}  // namespace
}  // namespace turnstone::testing

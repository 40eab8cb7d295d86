// Instruments of which only the result is kept. Expectations: the comments of
// event.proto and score.h; no outside source.
#include <gtest/gtest.h>

#include <string>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

v1::ScreeningResult WithResult(const std::string& code) {
  v1::ScreeningResult form;
  form.set_result(code);
  return form;
}

std::string Refusal(const std::string& id, const v1::ScreeningResult& form) {
  const absl::Status status = ScoreForm(LoadScale(id), form).status();
  EXPECT_EQ(status.code(), absl::StatusCode::kInvalidArgument);
  return std::string(status.message());
}

TEST(ResultForm, KeepsTheResultAndNothingElse) {
  const Score score =
      MustScore(LoadScale("cognitive-screen"), WithResult("below-cut"));
  EXPECT_EQ(score.result, "below-cut");
  EXPECT_EQ(score.scored_items, 0);
  EXPECT_FALSE(score.reported.has_value());
}

TEST(ResultForm, RefusesWhatIsNoResultOfTheInstrument) {
  const std::string advice =
      "result is missing or not one of Cognitive screen; send one of below-cut "
      "(no sign of impairment on this screen), at-or-above-cut (impairment "
      "suspected on this screen), not-done (not done: declined, or could not "
      "be asked)";
  EXPECT_EQ(Refusal("cognitive-screen", WithResult("fine")), advice);
  EXPECT_EQ(Refusal("cognitive-screen", {}), advice);
}

TEST(ResultForm, RefusesAnswersAndTotals) {
  const std::string advice =
      "answers and reportedTotal are not kept for Cognitive screen; send "
      "result only";
  v1::ScreeningResult total = WithResult("below-cut");
  total.set_reported_total(3);
  EXPECT_EQ(Refusal("cognitive-screen", total), advice);
  v1::ScreeningResult answers = WithResult("below-cut");
  AddAnswer(answers, "clock", "right");
  EXPECT_EQ(Refusal("cognitive-screen", answers), advice);
}

TEST(ResultForm, IsNoFormOfAnInstrumentWithItems) {
  EXPECT_EQ(Refusal("phq-2", WithResult("positive")),
            "result is not a field for PHQ-2, which is scored from its "
            "answers; send answers, reportedTotal or both");
}

}  // namespace
}  // namespace turnstone::testing

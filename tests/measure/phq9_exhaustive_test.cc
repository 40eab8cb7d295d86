// Every way to fill in a PHQ-9, against an independent reading of Kroenke 2001
// and Spitzer 1999.
#include <gtest/gtest.h>

#include <array>

#include "rules/measure/symptom_count.h"
#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

using Ticks = std::array<int, 9>;

std::string KroenkeBand(int total) {
  if (total >= 20) return "severe";
  if (total >= 15) return "moderately severe";
  if (total >= 10) return "moderate";
  if (total >= 5) return "mild";
  return "minimal";
}

SymptomPattern SpitzerPattern(const Ticks& ticks) {
  int symptoms = ticks[8] >= 1 ? 1 : 0;
  for (size_t i = 0; i < 8; ++i) symptoms += ticks.at(i) >= 2 ? 1 : 0;
  const bool core = ticks[0] >= 2 || ticks[1] >= 2;
  if (core && symptoms >= 5) return SymptomPattern::kMajor;
  if (core && symptoms >= 2) return SymptomPattern::kOther;
  return SymptomPattern::kNone;
}

// Digits of `number` in base 4.
Ticks TicksOf(int number) {
  Ticks ticks{};
  for (int& tick : ticks) {
    tick = number % 4;
    number /= 4;
  }
  return ticks;
}

TEST(Phq9, EveryFormGivesTheTotalBandAndPatternOfThePapers) {
  const Scale scale = LoadScale("phq-9");
  v1::ScreeningResult form = Fill(Phq9(), {0, 0, 0, 0, 0, 0, 0, 0, 0});
  for (int number = 0; number < 262144; ++number) {
    const Ticks ticks = TicksOf(number);
    int total = 0;
    for (size_t i = 0; i < ticks.size(); ++i) {
      total += ticks.at(i);
      form.mutable_answers(static_cast<int>(i))
          ->set_answer(Phq9().answers[static_cast<size_t>(ticks.at(i))]);
    }
    const Score score = MustScore(scale, form);
    ASSERT_EQ(score.total, (Interval{total, total})) << number;
    ASSERT_EQ(scale.BandFor(score.total), KroenkeBand(total)) << number;
    ASSERT_EQ(CountSymptoms(scale, score)->pattern, SpitzerPattern(ticks))
        << number;
  }
}

}  // namespace
}  // namespace turnstone::testing

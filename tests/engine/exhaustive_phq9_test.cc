// Every possible PHQ-9 form, through the engine with the shipped rules.
//
// Expected values are computed here from the published rules alone: total =
// sum of nine items 0 to 3; bands 0-4, 5-9, 10-14, 15-19, 20-27 (Kroenke 2001,
// J Gen Intern Med 16:606); item 9 of 1 or more is positive (Simon 2013,
// Psychiatr Serv 64:1195).
#include <gtest/gtest.h>

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "rules/engine/decide.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

class ExhaustivePhq9 : public testing::Test {
 protected:
  // Rules that raise for one form of a participant of whom nothing else is
  // known, with the alert's priority. Built on facts, as the service does.
  std::map<std::string, v1::Priority> Raised(const v1::Event& event) {
    History history;
    EXPECT_TRUE(history.Apply(event, setup_.catalogue()).ok());
    form_ = *history.facts()[0].As<Screening>();
    std::map<std::string, v1::Priority> raised;
    const Asking asking{absl::InfinitePast(), absl::InfinitePast(), when_};
    for (const Answer& answer : Decide(site_, history, agenda_, asking)) {
      if (answer.raise) raised[answer.rule->id()] = answer.priority;
    }
    return raised;
  }

  const turnstone::Setup setup_ = ShippedSetup();
  const Site& site_ = *setup_.FindSite("pebble-bay");
  const Agenda agenda_{};
  const absl::Time when_ = At("2027-01-04T10:00:00Z");
  Screening form_;
};

std::string PublishedBand(int total) {
  if (total <= 4) return "minimal";
  if (total <= 9) return "mild";
  if (total <= 14) return "moderate";
  if (total <= 19) return "moderately severe";
  return "severe";
}

std::vector<std::optional<int>> Decode(int code, int items) {
  std::vector<std::optional<int>> answers;
  for (int i = 0; i < items; ++i) {
    answers.push_back(code % 4);
    code /= 4;
  }
  return answers;
}

TEST_F(ExhaustivePhq9, EveryCompleteForm) {
  for (int code = 0; code < 262144; ++code) {
    const auto answers = Decode(code, 9);
    int total = 0;
    for (const auto& answer : answers) total += *answer;
    const auto raised = Raised(Phq9("e", when_, answers));

    ASSERT_EQ(form_.score.total, (Interval{total, total})) << code;
    ASSERT_EQ(form_.scale->BandFor(form_.score.total), PublishedBand(total));
    const auto safety = raised.find("self-harm-positive");
    ASSERT_EQ(safety != raised.end(), *answers[8] >= 1) << code;
    if (safety != raised.end()) {
      ASSERT_EQ(safety->second, v1::PRIORITY_STAT) << code;
    }
    ASSERT_EQ(raised.count("self-harm-unanswered"), 0u) << code;
    ASSERT_EQ(raised.count("score-above-range"), total >= 20 ? 1u : 0u);
  }
}

TEST_F(ExhaustivePhq9, EveryFormWithoutItemNine) {
  for (int code = 0; code < 65536; ++code) {
    const auto answers = Decode(code, 8);
    int total = 0;
    for (const auto& answer : answers) total += *answer;
    const auto raised = Raised(Phq9("e", when_, answers));

    ASSERT_EQ(form_.score.total, (Interval{total, total + 3})) << code;
    const auto unanswered = raised.find("self-harm-unanswered");
    ASSERT_NE(unanswered, raised.end()) << code;
    ASSERT_EQ(unanswered->second, v1::PRIORITY_ASAP) << code;
    ASSERT_EQ(raised.count("self-harm-positive"), 0u) << code;
    // 17 could still be 20: unknown, so a person must look.
    ASSERT_EQ(raised.count("score-above-range"), total >= 17 ? 1u : 0u);
  }
}

}  // namespace
}  // namespace turnstone

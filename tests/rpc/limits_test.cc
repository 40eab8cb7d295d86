// How much one caller may ask for. Limits and times are made up: what counts is
// that they are kept.
#include "service/rpc/limits.h"

#include <gtest/gtest.h>

#include <vector>

namespace turnstone {
namespace {

constexpr LimitTable kTight = {{
    {.per_second = 2, .at_first = 3, .at_once = 10},
    {.per_second = 100, .at_first = 100, .at_once = 2},
    {.per_second = 1, .at_first = 1, .at_once = 1},
    {.per_second = 1, .at_first = 1, .at_once = 1},
}};

class LimitsTest : public testing::Test {
 protected:
  void Pass(absl::Duration time) { clock_.MoveTo(clock_.Now() + time); }
  // Whether a call may begin; it is over at once.
  bool Begins(const std::string& source, CallKind kind) {
    return limits_.Begin(source, kind).pass != nullptr;
  }

  SimulatedClock clock_{absl::UnixEpoch()};
  Limits limits_{clock_, kTight};
};

TEST_F(LimitsTest, SoManyAtFirstAndThenSoManyASecond) {
  for (int n = 0; n < 3; ++n) EXPECT_TRUE(Begins("a", CallKind::kChange));
  EXPECT_FALSE(Begins("a", CallKind::kChange));
  EXPECT_EQ(limits_.Begin("a", CallKind::kChange).wait, absl::Seconds(0.5));
  Pass(absl::Milliseconds(250));
  EXPECT_FALSE(Begins("a", CallKind::kChange));
  Pass(absl::Milliseconds(250));
  EXPECT_TRUE(Begins("a", CallKind::kChange));
  EXPECT_FALSE(Begins("a", CallKind::kChange));
  // What is not used does not pile up.
  Pass(absl::Hours(1));
  for (int n = 0; n < 3; ++n) EXPECT_TRUE(Begins("a", CallKind::kChange));
  EXPECT_FALSE(Begins("a", CallKind::kChange));
}

TEST_F(LimitsTest, WhatOneUsesUpIsNeitherAnothersNorOfAnotherKind) {
  for (int n = 0; n < 4; ++n) (void)Begins("a", CallKind::kChange);
  EXPECT_FALSE(Begins("a", CallKind::kChange));
  EXPECT_TRUE(Begins("b", CallKind::kChange));
  EXPECT_TRUE(Begins("a", CallKind::kRead));
}

TEST_F(LimitsTest, SoManyAtOnceUntilOneIsOver) {
  Limits::Pass first = limits_.Begin("a", CallKind::kRead).pass;
  const Limits::Pass second = limits_.Begin("a", CallKind::kRead).pass;
  ASSERT_NE(first, nullptr);
  ASSERT_NE(second, nullptr);
  const Limits::Answer third = limits_.Begin("a", CallKind::kRead);
  EXPECT_EQ(third.pass, nullptr);
  EXPECT_GT(third.wait, absl::ZeroDuration());
  // A copy is the same call.
  Limits::Pass copy = first;
  first.reset();
  EXPECT_FALSE(Begins("a", CallKind::kRead));
  copy.reset();
  EXPECT_TRUE(Begins("a", CallKind::kRead));
}

TEST_F(LimitsTest, MadeUpNamesWithoutEndAreForgottenButNotWhoeverIsAtIt) {
  const Limits::Pass pass = limits_.Begin("a", CallKind::kSubmitStream).pass;
  for (int n = 0; n < 10000; ++n) {
    (void)Begins("name " + std::to_string(n), CallKind::kChange);
    Pass(absl::Milliseconds(10));
  }
  EXPECT_LE(limits_.sources(), 1024u);
  EXPECT_FALSE(Begins("a", CallKind::kSubmitStream));
}

}  // namespace
}  // namespace turnstone

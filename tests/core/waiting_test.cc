// A rule that waits is asked twice: a reason given at one asking must not fall
// away, or be held back, because of the other.
#include <gmock/gmock.h>
#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Six points above the baseline, asked again after two working days.
constexpr char kWaiting[] = R"(
  id: "waiting" version: 1 title: "Worse" owner: "test" rationale: "test"
  source: "invented" when { screening { instrument: "phq-9" } }
  condition { worse_by { instrument: "phq-9" than: COMPARED_WITH_BASELINE
                         at_least { value: 6 } } }
  on_unknown { wait_then_raise { working_days { value: 2 } } }
  kind: ALERT_KIND_STEPPED_CARE priority: PRIORITY_URGENT
  unknown_priority: PRIORITY_URGENT protocol: "stepped-care")";

class WaitingTest : public CoreFixture {
 protected:
  WaitingTest() {
    v1::Configuration only = WithoutSignOfLife();
    v1::RuleSet& rules = *only.mutable_rule_set(0);
    rules.clear_rule();
    EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(
        kWaiting, rules.add_rule()));
    EXPECT_TRUE(core_->Activate(only).ok());
  }
  // Total 10, or 10 to 13 with the last answer missing.
  v1::Event Base(bool complete) const {
    std::vector<std::optional<int>> items = {2, 2, 2, 2, 2, 0, 0, 0};
    if (complete) items.emplace_back(0);
    return Phq9("base", At("2027-01-04T09:00:00Z"), items);
  }
};

TEST_F(WaitingTest, ReasonThatTurnsUnknownIsRaisedAgainNotLost) {
  Submit(Base(true));
  MoveTo(At("2027-01-11T10:00:00Z"));
  Submit(Phq9Total("form", clock_.Now(), 17));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 waiting"));
  MoveTo(At("2027-01-20T10:00:00Z"));
  // 10 to 13 against 17: 4 to 7 points, which may or may not be 6.
  Submit(Replaced("x", clock_.Now(), Base(false)));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 waiting"));
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_REQUESTED);
}

TEST_F(WaitingTest, ReasonStaysWhileTheAnswerIsWaitedFor) {
  Submit(Base(true));
  MoveTo(At("2027-01-11T10:00:00Z"));
  Submit(Phq9Total("form", clock_.Now(), 17));
  MoveTo(At("2027-01-11T11:00:00Z"));
  Submit(Replaced("x", clock_.Now(), Base(false)));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 waiting"));
  MoveTo(At("2027-01-20T10:00:00Z"));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 waiting"));
}

TEST_F(WaitingTest, ReasonThatTurnsCertainStays) {
  Submit(Base(false));
  MoveTo(At("2027-01-11T10:00:00Z"));
  Submit(Phq9Total("form", clock_.Now(), 17));
  EXPECT_THAT(Alerts(), IsEmpty());
  MoveTo(At("2027-01-20T10:00:00Z"));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 waiting"));
  Submit(Replaced("x", clock_.Now(), Base(true)));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 waiting"));
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_REQUESTED);
}

}  // namespace
}  // namespace turnstone

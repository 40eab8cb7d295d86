// The machine's clock is set while the service runs, or while it does not. A
// deadline is met after as much time as it should be, whatever the clock says.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/measure/proto_time.h"
#include "service/core/commit_round.h"
#include "service/core/service_time.h"
#include "tests/core/core_fixture.h"
#include "tests/support/settable_clock.h"

namespace turnstone {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const absl::Time kTen = At("2027-01-04T10:00:00Z");

TEST(ServiceTimeTest, IsTheClocks) {
  SettableClock clock(kTen);
  ServiceTime time(clock);
  EXPECT_EQ(time.Now(), kTen);
  clock.Pass(absl::Hours(3));
  EXPECT_EQ(time.Now(), kTen + absl::Hours(3));
  EXPECT_EQ(time.Behind(), absl::ZeroDuration());
  EXPECT_EQ(time.TakeJump(), absl::ZeroDuration());
}

TEST(ServiceTimeTest, GoesOnEvenlyWhereTheClockIsSetBack) {
  SettableClock clock(kTen);
  ServiceTime time(clock);
  EXPECT_EQ(time.Now(), kTen);
  clock.Set(-absl::Hours(2));
  EXPECT_EQ(time.Now(), kTen);
  clock.Pass(absl::Minutes(10));
  EXPECT_EQ(time.Now(), kTen + absl::Minutes(10));
  EXPECT_EQ(time.Behind(), absl::Hours(2));
  clock.Set(absl::Hours(2));  // set right
  EXPECT_EQ(time.Now(), kTen + absl::Minutes(10));
  EXPECT_EQ(time.Behind(), absl::ZeroDuration());
}

TEST(ServiceTimeTest, FollowsTheClockAheadAndSaysSoOnce) {
  SettableClock clock(kTen);
  ServiceTime time(clock);
  EXPECT_EQ(time.Now(), kTen);
  clock.Pass(absl::Minutes(1));
  clock.Set(absl::Hours(5));
  EXPECT_EQ(time.Now(), kTen + absl::Minutes(1) + absl::Hours(5));
  EXPECT_EQ(time.TakeJump(), absl::Hours(5));
  EXPECT_EQ(time.TakeJump(), absl::ZeroDuration());
}

TEST(ServiceTimeTest, DowntimeIsNoJump) {
  SettableClock clock(kTen);
  ServiceTime time(clock);
  time.GoOnFrom(kTen - absl::Hours(48));
  EXPECT_EQ(time.Now(), kTen);
  EXPECT_EQ(time.TakeJump(), absl::ZeroDuration());
}

class ClockTest : public CoreFixture {
 protected:
  ClockTest() : machine_(kTen) { StartAgain(); }

  // As after a crash.
  void StartAgain() {
    core_.reset();
    core_ = std::make_unique<Core>(OpenSqliteStore(folder_).value(), machine_,
                                   CoreOptions());
    ASSERT_TRUE(core_->Start(std::nullopt).ok());
  }
  void Pass(absl::Duration by) {
    machine_.Pass(by);
    core_->LookAtMachine();
    AskDue();
  }
  // The ladder for stat in deploy/config/sites/: the second rung after 15
  // minutes.
  void RaiseStat() { Submit(Phq9Total("e1", kTen, 12, 1)); }
  int RungsReached() { return Alert("A-1").escalation().rungs_reached(); }

  SettableClock machine_;
};

TEST_F(ClockTest, ClockSetBackPutsNoDeadlineOff) {
  RaiseStat();
  Pass(absl::Minutes(5));
  machine_.Set(-absl::Hours(30));
  Pass(absl::Minutes(10) - absl::Seconds(1));
  EXPECT_EQ(RungsReached(), 1);
  Pass(absl::Seconds(1));
  EXPECT_EQ(RungsReached(), 2);
}

TEST_F(ClockTest, NorDoesARestartWithTheClockSetBackMeanwhile) {
  RaiseStat();
  machine_.Set(-absl::Hours(24 * 365));
  machine_.Restart();
  StartAgain();
  Pass(absl::Minutes(15) - absl::Seconds(1));
  EXPECT_EQ(RungsReached(), 1);
  Pass(absl::Seconds(1));
  EXPECT_EQ(RungsReached(), 2);
}

// What is not recorded of the time, a restart would take back: restarted often
// enough, the service would never reach a deadline.
TEST_F(ClockTest, NorDoManyRestarts) {
  RaiseStat();
  machine_.Set(-absl::Hours(30));
  for (int life = 0; life < 8; ++life) {
    EXPECT_EQ(RungsReached(), 1) << life;
    Pass(absl::Minutes(2));
    machine_.Restart();
    StartAgain();
  }
  EXPECT_EQ(RungsReached(), 2);
}

TEST_F(ClockTest, ConcernSaysByHowMuchTheClockIsBehind) {
  EXPECT_THAT(core_->Concerns(), Not(Contains(HasSubstr("clock"))));
  machine_.Set(-absl::Minutes(1));
  EXPECT_THAT(core_->Concerns(), Not(Contains(HasSubstr("clock"))));
  machine_.Set(-absl::Minutes(89));
  EXPECT_THAT(core_->Concerns(), Contains(HasSubstr("1h30m behind")));
}

TEST_F(ClockTest, RoundTellsOnceThatTheClockFellBehindAndOfEachJump) {
  ChangeHub hub;
  CommitRound round(*core_, hub);
  std::vector<Core::ClockNews> told;
  round.OnClock([&](const Core::ClockNews& news) { told.push_back(news); });
  round.Begin();
  const auto rounds = [&] {
    for (int n = 0; n < 3; ++n) {
      machine_.Pass(absl::Seconds(1));
      round.AskWhatIsDue();
    }
  };
  rounds();
  machine_.Set(-absl::Minutes(1));  // tolerated
  rounds();
  machine_.Set(absl::Minutes(1) + absl::Hours(1));
  rounds();
  EXPECT_THAT(told, IsEmpty());
  machine_.Set(-absl::Hours(3));
  rounds();
  ASSERT_EQ(told.size(), 1);
  EXPECT_EQ(told[0].behind, absl::Hours(3));
  machine_.Set(absl::Hours(3));  // set right: no jump
  rounds();
  EXPECT_EQ(told.size(), 1);
  machine_.Set(absl::Hours(1) + absl::Seconds(1));
  rounds();
  ASSERT_EQ(told.size(), 2);
  EXPECT_EQ(told[1].jump, absl::Hours(1) + absl::Seconds(1));
  EXPECT_EQ(told[1].behind, absl::ZeroDuration());
}

}  // namespace
}  // namespace turnstone

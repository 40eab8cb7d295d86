// One source's flood against what others send: who is served when. Nothing here
// takes time, so the ratios are counted, not measured.
#include "service/core/fair_queue.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "service/core/commit_thread.h"
#include "service/core/round_share.h"
#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;

constexpr size_t kRoom = 4096;

TEST(FairQueueTest, SourcesAreServedInTurnAndEachInItsOwnOrder) {
  FairQueue<std::string> queue;
  for (const char* work : {"a1", "a2", "a3", "b1", "b2", "c1"}) {
    ASSERT_TRUE(queue.Push(std::string(1, work[0]), work, kRoom));
  }
  std::vector<std::string> taken;
  queue.Take(4, taken);
  queue.Take(100, taken);
  EXPECT_THAT(taken, ElementsAre("a1", "b1", "c1", "a2", "b2", "a3"));
  EXPECT_TRUE(queue.empty());
}

// The source that comes last waits for one piece of each other source, however
// many they have.
TEST(FairQueueTest, WhatOthersHaveSentDelaysNobodyByMoreThanOnePieceEach) {
  for (const int flood : {1, 10, 1000}) {
    FairQueue<std::string> queue;
    for (int n = 0; n < flood; ++n) {
      ASSERT_TRUE(queue.Push("noisy", "noise", kRoom));
      ASSERT_TRUE(queue.Push("noisy too", "noise", kRoom));
    }
    ASSERT_TRUE(queue.Push("quiet", "stat", kRoom));
    std::vector<std::string> taken;
    queue.Take(3, taken);
    EXPECT_THAT(taken, ElementsAre("noise", "noise", "stat")) << flood;
  }
}

TEST(FairQueueTest, AFullQueueRefusesThoseWhoFilledItAndNobodyElse) {
  FairQueue<int> queue;
  for (int n = 0; n < 10; ++n) ASSERT_TRUE(queue.Push("noisy", n, 10));
  EXPECT_FALSE(queue.Push("noisy", 10, 10));
  for (int n = 0; n < 5; ++n) EXPECT_TRUE(queue.Push("quiet", n, 10));
  // An even share of ten among two is five.
  EXPECT_FALSE(queue.Push("quiet", 5, 10));
  EXPECT_TRUE(queue.Push("third", 0, 10));
}

TEST(RoundShareTest, IsWhatTakesAMomentGoingByTheLastRound) {
  RoundShare share(500);
  EXPECT_EQ(share.pieces(), 500u);
  share.Learn(500, absl::Seconds(1));
  EXPECT_EQ(share.pieces(), 10u);
  share.Learn(0, absl::ZeroDuration());
  EXPECT_EQ(share.pieces(), 10u);
  share.Learn(10, absl::Milliseconds(1));
  EXPECT_EQ(share.pieces(), 200u);
  share.Learn(1, absl::Minutes(1));
  EXPECT_EQ(share.pieces(), 1u);
  share.Learn(1, absl::ZeroDuration());
  EXPECT_EQ(share.pieces(), 500u);
}

class FloodTest : public CoreFixture {
 protected:
  // Which commit has the quiet source's event in it, if `flood` events of
  // another were there before it.
  int CommitThatHasIt(int flood) {
    CommitThread thread(*core_, hub_, {.queue_max = kRoom, .batch_max = 64});
    int commits = 0;
    int heard_in = 0;
    thread.OnCommit([&](size_t, absl::Duration) { ++commits; });
    const auto push = [&](const std::string& source, auto told) {
      const std::string name = source + std::to_string(++events_);
      v1::Event event = Confidence(name, At("2027-01-04T09:00:00Z"), 20);
      event.set_participant(name);
      EXPECT_TRUE(thread.PushChange(
          [=, this](Core& core) -> CommitThread::Answer {
            EXPECT_TRUE(core.StageSubmit(event, by_).ok());
            return [told](const absl::Status& committed) {
              EXPECT_TRUE(committed.ok());
              told();
            };
          },
          source));
    };
    for (int n = 0; n < flood; ++n) push("noisy", [] {});
    push("quiet", [&] { heard_in = commits + 1; });
    thread.Start();
    thread.Stop();
    return heard_in;
  }

  ChangeHub hub_;
  int events_ = 0;
};

// The ratio of the two is 1; in the order of arrival it would be 16.
TEST_F(FloodTest, AnothersEventIsInTheNextCommitHoweverManyAreQueued) {
  EXPECT_EQ(CommitThatHasIt(0), 1);
  EXPECT_EQ(CommitThatHasIt(1000), 1);
}

TEST_F(FloodTest, WhereEachPieceTakesLongARoundTakesFew) {
  CommitThread thread(*core_, hub_, {.queue_max = kRoom, .batch_max = 64});
  std::vector<size_t> commits;
  thread.OnCommit(
      [&](size_t changes, absl::Duration) { commits.push_back(changes); });
  for (int n = 0; n < 70; ++n) {
    ASSERT_TRUE(thread.PushChange([&](Core&) -> CommitThread::Answer {
      clock_.MoveTo(clock_.Now() + absl::Milliseconds(10));
      return [](const absl::Status&) {};
    }));
  }
  thread.Start();
  thread.Stop();
  EXPECT_THAT(commits, ElementsAre(64, 2, 2, 2));
}

}  // namespace
}  // namespace turnstone

// The queue, the one committing thread, and those who wait for it. Runs under
// the thread sanitizer.
#include "service/core/commit_thread.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <future>
#include <set>
#include <thread>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

class CommitThreadTest : public CoreFixture {
 protected:
  // Runs `read` on the commit thread and waits for it.
  template <typename Read>
  void OnThread(CommitThread& thread, Read read) {
    std::promise<void> done;
    ASSERT_TRUE(thread.PushRead([&](Core& core) {
      read(core);
      done.set_value();
    }));
    done.get_future().wait();
  }

  ChangeHub hub_;
};

v1::Event EventNumber(int caller, int number) {
  return Confidence(std::to_string(caller) + "-" + std::to_string(number),
                    At("2027-01-04T09:00:00Z"), 20);
}

TEST_F(CommitThreadTest, ManyCallersEachGetTheirOwnAnswerOnce) {
  constexpr int kCallers = 8;
  constexpr int kEach = 50;
  std::mutex mutex;
  std::set<int64_t> sequences;
  std::atomic<int> answers{0};
  {
    CommitThread thread(*core_, hub_, {});
    thread.Start();
    std::vector<std::thread> callers;
    callers.reserve(kCallers);
    for (int c = 0; c < kCallers; ++c) {
      callers.emplace_back([&, c] {
        for (int n = 0; n < kEach; ++n) {
          const bool taken =
              thread.PushChange([&, event = EventNumber(c, n)](Core& core) {
                const auto staged = core.StageSubmit(event, by_);
                return [&, staged](const absl::Status& committed) {
                  EXPECT_TRUE(committed.ok());
                  const std::lock_guard<std::mutex> lock(mutex);
                  sequences.insert(staged->sequence());
                  ++answers;
                };
              });
          EXPECT_TRUE(taken);
        }
      });
    }
    for (std::thread& caller : callers) caller.join();
    thread.Stop();  // finishes what is queued
  }
  EXPECT_EQ(answers, kCallers * kEach);
  // Dense: 1 to 400, each once.
  EXPECT_EQ(sequences.size(), static_cast<size_t>(kCallers * kEach));
  EXPECT_EQ(*sequences.rbegin(), kCallers * kEach);
}

TEST_F(CommitThreadTest, AnswerComesOnlyAfterTheCommit) {
  CommitThread thread(*core_, hub_, {});
  thread.Start();
  std::promise<size_t> seen;
  ASSERT_TRUE(thread.PushChange([&](Core& core) -> CommitThread::Answer {
    EXPECT_TRUE(core.StageSubmit(EventNumber(1, 1), by_).ok());
    return [&](const absl::Status& committed) {
      EXPECT_TRUE(committed.ok());
      // What is read now comes from the store, where it must be.
      seen.set_value(core_->AlertsAfter("", 0, 10, SiteScope::All())->size());
    };
  }));
  EXPECT_EQ(seen.get_future().get(), 1u);
}

TEST_F(CommitThreadTest, FullQueueRefusesAndLosesNothingItTook) {
  CommitThread thread(*core_, hub_, {.queue_max = 2, .batch_max = 10});
  std::atomic<int> done{0};
  const auto push = [&] {
    return thread.PushChange([&](Core&) -> CommitThread::Answer {
      return [&](const absl::Status&) { ++done; };
    });
  };
  // Not started yet: nothing is taken out.
  EXPECT_TRUE(push());
  EXPECT_TRUE(push());
  EXPECT_FALSE(push());
  thread.Start();
  thread.Stop();
  EXPECT_EQ(done, 2);
  EXPECT_FALSE(push());
}

TEST_F(CommitThreadTest, FollowersTakeNobodysPlaceAndAreNotRefused) {
  CommitThread thread(*core_, hub_, {.queue_max = 2, .batch_max = 3});
  std::atomic<int> followed{0};
  std::atomic<int> read{0};
  for (int n = 0; n < 10; ++n) {
    EXPECT_TRUE(thread.PushFollow([&](Core&) { ++followed; }));
  }
  EXPECT_TRUE(thread.PushRead([&](Core&) { ++read; }));
  EXPECT_TRUE(thread.PushRead([&](Core&) { ++read; }));
  EXPECT_FALSE(thread.PushRead([&](Core&) { ++read; }));
  thread.Start();
  thread.Stop();
  EXPECT_EQ(followed, 10);
  EXPECT_EQ(read, 2);
}

TEST_F(CommitThreadTest, FollowersHearOfEveryCommittedChange) {
  std::atomic<int> heard{0};
  const int64_t subscription = hub_.Subscribe([&] { ++heard; });
  CommitThread thread(*core_, hub_, {});
  thread.Start();
  for (int n = 0; n < 3; ++n) {
    std::promise<void> answered;
    ASSERT_TRUE(thread.PushChange([&, n](Core& core) -> CommitThread::Answer {
      EXPECT_TRUE(core.StageSubmit(EventNumber(1, n), by_).ok());
      return [&](const absl::Status&) { answered.set_value(); };
    }));
    answered.get_future().wait();
    EXPECT_EQ(heard, n + 1);
  }
  hub_.Unsubscribe(subscription);
  OnThread(thread, [](Core&) {});
  hub_.Announce();
  EXPECT_EQ(heard, 3);
}

TEST_F(CommitThreadTest, FollowersMayComeAndGoWhileChangesAreAnnounced) {
  std::atomic<bool> stop{false};
  std::thread announcer([&] {
    while (!stop) hub_.Announce();
  });
  for (int i = 0; i < 200; ++i) {
    int calls = 0;
    const int64_t subscription = hub_.Subscribe([&calls] { ++calls; });
    hub_.Unsubscribe(subscription);
    // Nobody writes to `calls` any more: it may go out of scope.
  }
  stop = true;
  announcer.join();
}

TEST_F(CommitThreadTest, WhatFallsDueIsAskedWithoutAnybodyCalling) {
  Submit(Planned("p", clock_.Now(), "visit-1", At("2027-01-08T10:00:00Z")));
  std::promise<int> raised;
  CommitThread thread(*core_, hub_, {});
  thread.OnDue([&](const Core::DueReport& report) {
    raised.set_value(report.alerts_raised);
  });
  thread.Start();
  clock_.MoveTo(At("2027-01-11T17:00:00Z"));
  thread.Wake();
  EXPECT_EQ(raised.get_future().get(), 1);
}

}  // namespace
}  // namespace turnstone

// The threads that carry messages out. Runs under the thread sanitizer. Every
// wait is for something to happen; where a wake-up is what is tested, the nap
// is an hour, so that it cannot stand in for it. Properties: our own promises
// (transport.h, couriers.h).
#include "service/deliver/couriers.h"

#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "tests/deliver/fake_delivery.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::UnorderedElementsAre;

constexpr std::chrono::hours kNever{1};
constexpr std::chrono::milliseconds kAtOnce{1};

const ChannelKey kMail{"pebble-bay", "mail"};
const ChannelKey kHook{"pebble-bay", "hook"};

class CouriersTest : public ::testing::Test {
 protected:
  void Start(std::chrono::milliseconds nap) {
    couriers_.emplace(outlet_, hub_, transport_, CourierOptions{nap});
    couriers_->Start();
  }

  FakeOutlet outlet_;
  ChangeHub hub_;
  FakeTransport transport_;
  // Last: it stops before what it uses is gone.
  std::optional<Couriers> couriers_;
};

MATCHER_P2(Is, key, code, "") { return arg.key == key && arg.result == code; }

TEST_F(CouriersTest, SendsWhatIsDueAndRecordsIt) {
  outlet_.Owe(kMail, "a");
  outlet_.Owe(kMail, "b");
  Start(kNever);
  EXPECT_THAT(outlet_.WaitForRecords(2),
              ElementsAre(Is("a", absl::StatusCode::kOk),
                          Is("b", absl::StatusCode::kOk)));
  EXPECT_THAT(transport_.sent(), ElementsAre("a", "b"));
}

TEST_F(CouriersTest, AnnouncementWakes) {
  outlet_.Owe(kMail, "a");
  Start(kNever);
  outlet_.WaitForRecords(1);
  outlet_.WaitUntilIdle(kMail);
  outlet_.Owe(kMail, "b");
  hub_.Announce();
  EXPECT_THAT(outlet_.WaitForRecords(2).back(), Is("b", absl::StatusCode::kOk));
}

TEST_F(CouriersTest, TimeAloneMakesMessagesDue) {
  outlet_.Owe(kMail, "a");
  Start(kAtOnce);
  outlet_.WaitForRecords(1);
  outlet_.WaitUntilIdle(kMail);
  outlet_.Owe(kMail, "b");
  outlet_.WaitForRecords(2);
}

TEST_F(CouriersTest, NewChannelIsFound) {
  outlet_.Owe(kMail, "a");
  Start(kNever);
  outlet_.WaitForRecords(1);
  outlet_.Owe(kHook, "b");
  hub_.Announce();
  outlet_.WaitForRecords(2);
}

TEST_F(CouriersTest, HangingChannelDelaysNoOther) {
  transport_.Hang("mail");
  outlet_.Owe(kMail, "a");
  Start(kNever);
  transport_.WaitForSending("mail");
  outlet_.Owe(kHook, "b");
  hub_.Announce();
  EXPECT_THAT(outlet_.WaitForRecords(1),
              ElementsAre(Is("b", absl::StatusCode::kOk)));
  transport_.Release();
  outlet_.WaitForRecords(2);
}

TEST_F(CouriersTest, WhatFailedIsRecordedSoAndSentAgainWithItsKey) {
  transport_.Answer("a", {absl::UnavailableError("451")});
  outlet_.Owe(kMail, "a");
  Start(kNever);
  EXPECT_THAT(outlet_.WaitForRecords(1),
              ElementsAre(Is("a", absl::StatusCode::kUnavailable)));
  outlet_.MakeDue();
  hub_.Announce();
  EXPECT_THAT(outlet_.WaitForRecords(2).back(), Is("a", absl::StatusCode::kOk));
  EXPECT_THAT(transport_.sent(), ElementsAre("a", "a"));
}

TEST_F(CouriersTest, RefusedForGoodIsNotSentAgain) {
  transport_.Answer("a", {absl::InvalidArgumentError("550")});
  outlet_.Owe(kMail, "a");
  outlet_.Owe(kMail, "b");
  Start(kNever);
  EXPECT_THAT(outlet_.WaitForRecords(2),
              ElementsAre(Is("a", absl::StatusCode::kInvalidArgument),
                          Is("b", absl::StatusCode::kOk)));
  EXPECT_THAT(transport_.sent(), ElementsAre("a", "b"));
}

// While the outcome cannot be recorded, nothing else is sent by the channel,
// and the message is not sent a second time.
TEST_F(CouriersTest, OutcomeIsRecordedBeforeAnythingElse) {
  transport_.Hang("mail");
  outlet_.Owe(kMail, "a");
  outlet_.Owe(kMail, "b");
  Start(kAtOnce);
  transport_.WaitForSending("mail");
  outlet_.Refuse(true);
  transport_.Release();
  outlet_.WaitForRefusals(5);
  EXPECT_THAT(transport_.sent(), ElementsAre("a"));
  EXPECT_THAT(outlet_.records(), IsEmpty());
  outlet_.Refuse(false);
  outlet_.WaitForRecords(2);
  EXPECT_THAT(transport_.sent(), ElementsAre("a", "b"));
}

TEST_F(CouriersTest, StopWaitsForWhatIsBeingSentAndRecordsIt) {
  transport_.Hang("mail");
  outlet_.Owe(kMail, "a");
  Start(kNever);
  transport_.WaitForSending("mail");
  std::thread stopping([this] { couriers_->Stop(); });
  transport_.Release();
  stopping.join();
  EXPECT_THAT(outlet_.records(), ElementsAre(Is("a", absl::StatusCode::kOk)));
}

TEST_F(CouriersTest, StopsWhenIdleAndWhenNothingCanBeRecorded) {
  transport_.Hang("mail");
  outlet_.Owe(kMail, "a");
  outlet_.Owe(kHook, "b");
  Start(kNever);
  transport_.WaitForSending("mail");
  outlet_.WaitForRecords(1);
  outlet_.Refuse(true);
  transport_.Release();
  couriers_->Stop();
  couriers_->Stop();
  EXPECT_THAT(transport_.sent(), UnorderedElementsAre("a", "b"));
}

// Four channels that fail at random: what is recorded as sent is exactly what
// was taken, once each, and everything comes to an end.
TEST_F(CouriersTest, NothingIsRecordedAsSentThatWasNot) {
  constexpr int kEach = 50;
  constexpr int kChannels = 4;
  std::mt19937 chance(20270206);  // any seed would do
  std::uniform_int_distribution<int> failures(0, 3);
  std::multiset<std::string> to_be_taken;
  size_t outcomes = 0;
  for (int i = 0; i < kEach * kChannels; ++i) {
    const std::string key = absl::StrCat("m", i);
    std::deque<absl::Status> answers;
    for (int f = failures(chance); f > 0; --f) {
      answers.push_back(absl::UnavailableError("busy"));
    }
    if (failures(chance) == 0) {
      answers.push_back(absl::InvalidArgumentError("no"));
      outcomes += answers.size();
    } else {
      to_be_taken.insert(key);
      outcomes += answers.size() + 1;
    }
    transport_.Answer(key, answers);
    outlet_.Owe({"pebble-bay", absl::StrCat("channel-", i % kChannels)}, key);
  }
  Start(kAtOnce);
  for (size_t round = 1; round <= 4; ++round) {
    for (int c = 0; c < kChannels; ++c) {
      outlet_.WaitUntilIdle({"pebble-bay", absl::StrCat("channel-", c)});
    }
    outlet_.MakeDue();
    hub_.Announce();
  }
  std::multiset<std::string> recorded;
  for (const auto& record : outlet_.WaitForRecords(outcomes)) {
    if (record.result == absl::StatusCode::kOk) recorded.insert(record.key);
  }
  couriers_->Stop();
  EXPECT_EQ(recorded, to_be_taken);
  EXPECT_EQ(transport_.taken(), to_be_taken);
  EXPECT_EQ(transport_.sent().size(), outcomes);
  EXPECT_FALSE(outlet_.asked_too_early());
  EXPECT_EQ(transport_.most_at_once(), 1);
}

}  // namespace
}  // namespace turnstone

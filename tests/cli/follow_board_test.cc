// Following on a terminal. Source: service.proto (ListAlerts, FollowAlerts).
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <functional>
#include <string>
#include <thread>
#include <vector>

#include "tests/cli/fake_service.h"
#include "tests/cli/program.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;
using Writer = grpc::ServerWriter<v1::Alert>;

const grpc::Status kMinuteOver(grpc::StatusCode::DEADLINE_EXCEEDED, "minute");
const grpc::Status kGone(grpc::StatusCode::UNAVAILABLE, "going down");
// Ends the program, so that a test ends.
const grpc::Status kEnough(grpc::StatusCode::NOT_FOUND, "enough");

v1::Alert Placed(v1::Alert alert, int64_t position) {
  alert.set_position(position);
  return alert;
}

v1::Alert Stat(const std::string& id, int64_t position) {
  return Placed(SelfHarmAlert(id, "2027-03-03T13:55:00Z"), position);
}

v1::Alert Ended(const std::string& id, int64_t position) {
  v1::Alert alert = Stat(id, position);
  alert.set_status(v1::ALERT_STATUS_COMPLETED);
  return alert;
}

class FollowBoard : public testing::Test {
 protected:
  FollowBoard() {
    program_.server = service_.address();
    program_.window = Window{.columns = 96, .rows = 24, .styled = false};
    *service_.now.mutable_now() = Stamp("2027-03-03T14:05:00Z");
    service_.list = [this](const v1::ListAlertsRequest& request,
                           v1::ListAlertsResponse& response) {
      const size_t page = lists_.size();
      lists_.push_back(request);
      if (page >= pages_.size()) return grpc::Status::OK;
      for (const v1::Alert& alert : pages_[page]) *response.add_alert() = alert;
      if (page + 1 < pages_.size()) {
        response.set_next_page_token(absl::StrCat("p", page));
      }
      *response.mutable_now() = service_.now.now();
      return list_status_;
    };
    service_.follow = [this](grpc::ServerContext&,
                             const v1::FollowAlertsRequest& request,
                             Writer& writer) {
      requests_.push_back(request);
      if (requests_.size() > calls_.size()) return kEnough;
      return calls_[requests_.size() - 1](writer);
    };
  }

  // What was drawn, one board after the other.
  std::vector<std::string> Boards(const std::vector<std::string>& words = {
                                      "follow"}) {
    outcome_ = program_.Run(words);
    std::vector<std::string> boards =
        absl::StrSplit(outcome_.out, "\x1b[H\x1b[2J");
    EXPECT_EQ(boards.front(), "");
    boards.erase(boards.begin());
    return boards;
  }

  std::vector<std::vector<v1::Alert>> pages_;
  grpc::Status list_status_;
  std::vector<std::function<grpc::Status(Writer&)>> calls_;
  std::vector<v1::ListAlertsRequest> lists_;
  std::vector<v1::FollowAlertsRequest> requests_;
  Outcome outcome_;
  Program program_;
  FakeService service_;
};

TEST_F(FollowBoard, DrawsTheOpenAlertsAndFollowsFromTheirPosition) {
  pages_ = {{Stat("A-17", 40), Stat("A-18", 37)}};
  const auto boards = Boards({"follow", "--site", "harbour-row"});
  ASSERT_THAT(boards, SizeIs(1));
  EXPECT_THAT(boards[0], HasSubstr("2 open alerts"));
  EXPECT_EQ(lists_[0].site(), "harbour-row");
  EXPECT_THAT(lists_[0].status(), SizeIs(4));
  EXPECT_EQ(requests_[0].after_position(), 40);
  EXPECT_EQ(requests_[0].site(), "harbour-row");
  EXPECT_EQ(outcome_.code, 1);
  EXPECT_EQ(outcome_.err, "turnstone: refused: enough\n");
}

// A-17 may change after the first page was read: its change lies before the
// position of what the second page holds.
TEST_F(FollowBoard, MissesNothingThatChangedBetweenTwoPages) {
  pages_ = {{Stat("A-17", 40)}, {Stat("A-18", 55)}};
  Boards();
  EXPECT_EQ(requests_[0].after_position(), 40);
}

TEST_F(FollowBoard, FollowsFromTheBeginningWhereNothingIsOpen) {
  EXPECT_THAT(Boards().at(0), HasSubstr("No open alerts"));
  EXPECT_TRUE(requests_[0].has_after_position());
  EXPECT_EQ(requests_[0].after_position(), 0);
}

TEST_F(FollowBoard, DrawsAnewWhenSomethingShownChanges) {
  pages_ = {{Stat("A-17", 1)}};
  calls_ = {[](Writer& writer) {
    writer.Write(Ended("A-3", 2));  // never was on the board
    writer.Write(Placed(ToldAlert(), 3));
    writer.Write(Stat("A-20", 4));
    writer.Write(Ended("A-20", 5));
    return kMinuteOver;
  }};
  const auto boards = Boards();
  ASSERT_THAT(boards, SizeIs(5));
  EXPECT_THAT(boards[1], HasSubstr("r.sorrel"));
  EXPECT_THAT(boards[2], HasSubstr("A-20"));
  EXPECT_THAT(boards[3], Not(HasSubstr("A-20")));
  EXPECT_EQ(requests_[1].after_position(), 5);
}

TEST_F(FollowBoard, DrawsTimeLeftAnewWhenTheMinuteIsOver) {
  pages_ = {{Stat("A-17", 1)}};
  calls_ = {[this](Writer&) {
              *service_.now.mutable_now() = Stamp("2027-03-03T14:06:00Z");
              return kMinuteOver;
            },
            [](Writer&) { return kMinuteOver; }};
  const auto boards = Boards();
  ASSERT_THAT(boards, SizeIs(3));
  EXPECT_THAT(boards[0], HasSubstr("20 min"));
  EXPECT_THAT(boards[1], HasSubstr("19 min"));
  EXPECT_THAT(program_.sleeper.pauses, IsEmpty());
  EXPECT_TRUE(service_.had_deadline);
}

TEST_F(FollowBoard, RingsOnceForEachReason) {
  pages_ = {{Stat("A-17", 1)}};
  calls_ = {[](Writer& writer) {
    v1::Alert told = Stat("A-17", 2);
    told.mutable_escalation()->set_tellings(1);
    writer.Write(told);
    told.set_position(3);
    writer.Write(told);
    return kMinuteOver;
  }};
  std::vector<long> rings;
  for (const std::string& board : Boards()) {
    rings.push_back(std::count(board.begin(), board.end(), '\a'));
  }
  EXPECT_THAT(rings, ElementsAre(1, 1, 0, 0));
}

TEST_F(FollowBoard, SaysThatTheServiceDoesNotAnswerAndGoesOn) {
  pages_ = {{Stat("A-17", 7)}};
  calls_ = {[](Writer&) { return kGone; }, [](Writer&) { return kGone; }};
  const auto boards = Boards();
  ASSERT_THAT(boards, SizeIs(5));
  EXPECT_THAT(boards[1],
              testing::StartsWith("NO ANSWER from the service: what stands "
                                  "here may be old; trying again\n1 open"));
  EXPECT_THAT(boards[2], Not(HasSubstr("NO ANSWER")));
  EXPECT_EQ(requests_[2].after_position(), 7);
  EXPECT_THAT(lists_, SizeIs(1));
  EXPECT_THAT(program_.sleeper.pauses,
              ElementsAre(absl::Seconds(1), absl::Seconds(2)));
}

// A board that was never filled must not look as if nothing were open.
TEST_F(FollowBoard, NeverSaysThatNothingIsOpenBeforeItKnows) {
  list_status_ = kGone;
  pages_ = {{Stat("A-17", 7)}};
  program_.sleeper.on_sleep = [this] {
    list_status_ = grpc::Status::OK;
    lists_.clear();
  };
  const auto boards = Boards();
  ASSERT_THAT(boards, SizeIs(2));
  EXPECT_THAT(boards[0], HasSubstr("NO ANSWER"));
  EXPECT_THAT(boards[0], Not(HasSubstr("No open alerts")));
  EXPECT_THAT(boards[1], HasSubstr("A-17"));
}

// SIGTERM is blocked in this program's threads: see follow_test.cc.
TEST_F(FollowBoard, EndsWellOnASignal) {
  service_.follow = [](grpc::ServerContext& context,
                       const v1::FollowAlertsRequest&, Writer&) {
    kill(getpid(), SIGTERM);
    while (!context.IsCancelled()) std::this_thread::yield();
    return grpc::Status::CANCELLED;
  };
  EXPECT_THAT(Boards(), SizeIs(1));
  EXPECT_EQ(outcome_.code, 0);
  EXPECT_EQ(outcome_.err, "");
}

TEST_F(FollowBoard, IsForPeopleOnATerminalOnly) {
  calls_ = {[](Writer& writer) {
    writer.Write(Stat("A-17", 9));
    return kGone;
  }};
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"follow", "--lines"},
        {"follow", "--json"},
        {"follow", "--after", "0"},
        {"follow", "--count", "1"}}) {
    requests_.clear();
    EXPECT_THAT(program_.Run(words).out, Not(HasSubstr("\x1b"))) << words[1];
  }
  program_.window.reset();
  requests_.clear();
  EXPECT_THAT(program_.Run({"follow"}).out, testing::StartsWith("#9  "));
  EXPECT_THAT(lists_, IsEmpty());
}

}  // namespace
}  // namespace turnstone::cli

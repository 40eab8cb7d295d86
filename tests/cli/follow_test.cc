// Source: service.proto (FollowAlerts).
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <functional>
#include <memory>
#include <semaphore>
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
using Writer = grpc::ServerWriter<v1::Alert>;

const grpc::Status kLineGone(grpc::StatusCode::UNAVAILABLE, "going down");

void Send(Writer& writer, int64_t position) {
  v1::Alert alert = ToldAlert();
  alert.set_position(position);
  writer.Write(alert);
}

// No thread of this test must take the signal that is for the program: neither
// the service's nor those that gRPC keeps from earlier tests. Threads inherit
// what is blocked, so it is done before there is any.
const bool kTermBlocked = [] {
  sigset_t signals;
  sigemptyset(&signals);
  sigaddset(&signals, SIGTERM);
  return pthread_sigmask(SIG_BLOCK, &signals, nullptr) == 0;
}();

class Follow : public testing::Test {
 protected:
  Follow() {
    EXPECT_TRUE(kTermBlocked);
    service_ = std::make_unique<FakeService>();
    program_.server = service_->address();
    service_->follow = [this](grpc::ServerContext& context,
                              const v1::FollowAlertsRequest& request,
                              Writer& writer) {
      requests_.push_back(request);
      if (requests_.size() > calls_.size()) {
        return grpc::Status(grpc::StatusCode::INVALID_ARGUMENT, "one too many");
      }
      return calls_[requests_.size() - 1](context, writer);
    };
  }

  std::vector<std::function<grpc::Status(grpc::ServerContext&, Writer&)>>
      calls_;
  std::vector<v1::FollowAlertsRequest> requests_;
  // Up once the program was told to stop.
  std::binary_semaphore woken_{0};
  Program program_;
  std::unique_ptr<FakeService> service_;
};

TEST_F(Follow, GoesOnFromTheLastPosition) {
  calls_ = {[](grpc::ServerContext&, Writer& writer) {
              Send(writer, 7);
              Send(writer, 9);
              return kLineGone;
            },
            [](grpc::ServerContext&, Writer&) { return kLineGone; },
            [](grpc::ServerContext&, Writer& writer) {
              Send(writer, 12);
              return kLineGone;
            }};
  const Outcome outcome = program_.Run(
      {"follow", "--site", "harbour-row", "--after", "5", "--count", "3"});
  EXPECT_EQ(outcome.code, 0);
  ASSERT_EQ(requests_.size(), 3U);
  EXPECT_EQ(requests_[0].after_position(), 5);
  EXPECT_EQ(requests_[1].after_position(), 9);
  EXPECT_EQ(requests_[2].after_position(), 9);
  EXPECT_EQ(requests_[2].site(), "harbour-row");
  EXPECT_THAT(outcome.out, HasSubstr("#7  Wed 3 Mar 2027 12:20 GMT  A-17"));
  EXPECT_THAT(outcome.out, HasSubstr("#12  "));
  EXPECT_EQ(std::count(outcome.out.begin(), outcome.out.end(), '\n'), 3);
  EXPECT_THAT(program_.sleeper.pauses,
              ElementsAre(absl::Seconds(1), absl::Seconds(2)));
  EXPECT_THAT(outcome.err, HasSubstr("turnstone follow --after 12\n"));
}

TEST_F(Follow, PausesNeverGrowBeyondHalfAMinute) {
  for (int i = 0; i < 8; ++i) {
    calls_.emplace_back(
        [](grpc::ServerContext&, Writer&) { return kLineGone; });
  }
  calls_.emplace_back([](grpc::ServerContext&, Writer& writer) {
    Send(writer, 1);
    return kLineGone;
  });
  EXPECT_EQ(program_.Run({"follow", "--after", "0", "--count", "1"}).code, 0);
  EXPECT_EQ(program_.sleeper.pauses.back(), absl::Seconds(30));
}

TEST_F(Follow, SaysThatChangesMayBeMissingWhenItHasNoPosition) {
  calls_ = {[](grpc::ServerContext&, Writer&) { return kLineGone; },
            [](grpc::ServerContext&, Writer& writer) {
              Send(writer, 3);
              return grpc::Status::OK;
            }};
  const Outcome outcome = program_.Run({"follow", "--count", "1"});
  EXPECT_FALSE(requests_[0].has_after_position());
  EXPECT_THAT(outcome.err, HasSubstr("Changes in between may not be shown"));
}

TEST_F(Follow, StopsWhenItIsRefused) {
  calls_ = {[](grpc::ServerContext&, Writer&) {
    return grpc::Status(grpc::StatusCode::NOT_FOUND, "no such site");
  }};
  const Outcome outcome = program_.Run({"follow", "--site", "nowhere"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_THAT(program_.sleeper.pauses, testing::IsEmpty());
}

TEST_F(Follow, TriesAgainWhenTheServiceIsBusy) {
  calls_ = {[](grpc::ServerContext&, Writer&) {
              return grpc::Status(grpc::StatusCode::RESOURCE_EXHAUSTED,
                                  "not accepted: too many calls");
            },
            [](grpc::ServerContext&, Writer& writer) {
              Send(writer, 3);
              return grpc::Status::OK;
            }};
  EXPECT_EQ(program_.Run({"follow", "--count", "1"}).code, 0);
}

TEST_F(Follow, EndsWellOnASignal) {
  calls_ = {[](grpc::ServerContext& context, Writer&) {
    kill(getpid(), SIGTERM);
    while (!context.IsCancelled()) std::this_thread::yield();
    return grpc::Status::CANCELLED;
  }};
  const Outcome outcome = program_.Run({"follow"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_EQ(requests_.size(), 1U);
}

TEST_F(Follow, EndsWellOnASignalWhileItPauses) {
  calls_ = {[](grpc::ServerContext&, Writer&) { return kLineGone; }};
  program_.sleeper.on_sleep = [this] {
    kill(getpid(), SIGTERM);
    woken_.acquire();
  };
  program_.sleeper.on_wake = [this] { woken_.release(); };
  EXPECT_EQ(program_.Run({"follow"}).code, 0);
  EXPECT_EQ(program_.sleeper.pauses.size(), 1U);
}

TEST(RealSleeper, OnceWokenPausesNoMore) {
  RealSleeper sleeper;
  sleeper.Wake();
  sleeper.Sleep(absl::Hours(1));
}

}  // namespace
}  // namespace turnstone::cli

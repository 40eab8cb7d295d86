// The services on a real port: what each call answers when the service is
// busy, broken or stopping, and callers that come and go. Not under the
// thread sanitizer: it cannot see the synchronisation inside Debian's gRPC, and
// reports every message that passes through it.
#include <gmock/gmock.h>
#include <grpcpp/create_channel.h>
#include <grpcpp/server_builder.h>
#include <gtest/gtest.h>

#include <atomic>
#include <future>
#include <optional>
#include <set>
#include <thread>
#include <vector>

#include "service/rpc/services.h"
#include "tests/core/core_fixture.h"
#include "tests/store/failing_vfs.h"

namespace turnstone {
namespace {

using testing::HasSubstr;

class RpcTest : public CoreFixture {
 protected:
  // Not started: a test decides when the commit thread begins to work.
  void Serve(CommitThreadOptions options,
             const LimitTable& table = kUsualLimits) {
    limits_ = std::make_unique<Limits>(callers_clock_, table);
    thread_ = std::make_unique<CommitThread>(*core_, hub_, options);
    const Entrance entrance{*thread_, *limits_};
    events_ = std::make_unique<EventServiceImpl>(entrance);
    alerts_ = std::make_unique<AlertServiceImpl>(entrance, hub_);
    participants_ = std::make_unique<ParticipantServiceImpl>(entrance);
    grpc::ServerBuilder builder;
    int port = 0;
    builder.AddListeningPort("127.0.0.1:0", grpc::InsecureServerCredentials(),
                             &port);
    builder.RegisterService(events_.get());
    builder.RegisterService(alerts_.get());
    builder.RegisterService(participants_.get());
    server_ = builder.BuildAndStart();
    address_ = "127.0.0.1:" + std::to_string(port);
    channel_ =
        grpc::CreateChannel(address_, grpc::InsecureChannelCredentials());
    submit_ = v1::EventService::NewStub(channel_);
    work_ = v1::AlertService::NewStub(channel_);
    course_ = v1::ParticipantService::NewStub(channel_);
  }
  ~RpcTest() override {
    if (server_ == nullptr) return;
    hub_.Close();
    server_->Shutdown();
    thread_->Stop();
  }

  static void SayWho(grpc::ClientContext& context) {
    context.AddMetadata("turnstone-name", "r.sorrel");
    context.AddMetadata("turnstone-role", "clinician");
  }
  grpc::Status Submit(const v1::Event& event,
                      absl::Duration deadline = absl::Seconds(60)) {
    grpc::ClientContext context;
    SayWho(context);
    context.set_deadline(std::chrono::system_clock::now() +
                         absl::ToChronoMilliseconds(deadline));
    v1::SubmitRequest request;
    *request.mutable_event() = event;
    v1::SubmitResponse response;
    return submit_->Submit(&context, request, &response);
  }
  v1::Event Event(int number) {
    return Confidence("e" + std::to_string(number), At("2027-01-04T09:00:00Z"),
                      20);
  }

  ChangeHub hub_;
  SimulatedClock callers_clock_{absl::UnixEpoch()};
  std::unique_ptr<Limits> limits_;
  std::string address_;
  std::unique_ptr<CommitThread> thread_;
  std::unique_ptr<EventServiceImpl> events_;
  std::unique_ptr<AlertServiceImpl> alerts_;
  std::unique_ptr<ParticipantServiceImpl> participants_;
  std::unique_ptr<grpc::Server> server_;
  std::shared_ptr<grpc::Channel> channel_;
  std::unique_ptr<v1::EventService::Stub> submit_;
  std::unique_ptr<v1::AlertService::Stub> work_;
  std::unique_ptr<v1::ParticipantService::Stub> course_;
};

TEST_F(RpcTest, FullQueueRefusesBeforeAcceptance) {
  Serve({.queue_max = 1, .batch_max = 10});
  std::vector<std::future<grpc::Status>> calls;
  for (int n = 1; n <= 2; ++n) {
    calls.push_back(
        std::async(std::launch::async, [&, n] { return Submit(Event(n)); }));
  }
  // One of the two is answered although nobody works on the queue.
  std::optional<grpc::Status> refused;
  while (!refused) {
    for (auto& call : calls) {
      if (call.valid() && call.wait_for(std::chrono::milliseconds(1)) ==
                              std::future_status::ready) {
        refused = call.get();
        break;
      }
    }
  }
  EXPECT_EQ(refused->error_code(), grpc::StatusCode::RESOURCE_EXHAUSTED);
  EXPECT_THAT(refused->error_message(), HasSubstr("not accepted"));
  thread_->Start();
  for (auto& call : calls) {
    if (!call.valid()) continue;
    EXPECT_TRUE(call.get().ok());
  }
}

// Source of the key: gRPC proposal A6, "Pushback".
TEST_F(RpcTest, WhoBeginsTooManyCallsIsToldWhenToGoOnAndOthersAreNot) {
  LimitTable tight = kUsualLimits;
  tight[0] = {.per_second = 0.5, .at_first = 2, .at_once = 10};
  Serve({}, tight);
  thread_->Start();
  EXPECT_TRUE(Submit(Event(1)).ok());
  EXPECT_TRUE(Submit(Event(2)).ok());
  const auto submit_as = [&](const std::string& name,
                             grpc::ClientContext& context,
                             v1::SubmitResponse& response) {
    context.AddMetadata("turnstone-name", name);
    context.AddMetadata("turnstone-role", "clinician");
    v1::SubmitRequest request;
    *request.mutable_event() = Event(3);
    return submit_->Submit(&context, request, &response);
  };
  grpc::ClientContext third;
  v1::SubmitResponse response;
  const grpc::Status refused = submit_as("r.sorrel", third, response);
  EXPECT_EQ(refused.error_code(), grpc::StatusCode::RESOURCE_EXHAUSTED);
  EXPECT_THAT(refused.error_message(), HasSubstr("not accepted"));
  EXPECT_THAT(refused.error_message(), HasSubstr("wait 2 s"));
  EXPECT_THAT(
      third.GetServerTrailingMetadata(),
      testing::Contains(testing::Pair("grpc-retry-pushback-ms", "2001")));
  grpc::ClientContext another;
  EXPECT_TRUE(submit_as("a.fennel", another, response).ok());
  // What was refused is not there.
  EXPECT_FALSE(response.repeated_submission());
  callers_clock_.MoveTo(callers_clock_.Now() + absl::Seconds(2));
  EXPECT_TRUE(Submit(Event(4)).ok());
}

TEST_F(RpcTest, FollowerThatDoesNotReadIsCutOffAndGoesOnFromItsPosition) {
  constexpr int kAlerts = 300;
  constexpr int kMore = 50;
  const auto event_of = [this](int n) {
    v1::Event event = Event(n);
    event.set_participant("p" + std::to_string(n));
    return event;
  };
  for (int n = 0; n < kAlerts; ++n) {
    ASSERT_TRUE(core_->StageSubmit(event_of(n), by_).ok());
  }
  ASSERT_TRUE(core_->Commit().ok());
  Serve({});
  thread_->Start();
  // The system takes in little of what the caller does not take: 64 KiB at
  // either end, of half a megabyte.
  grpc::ChannelArguments small;
  small.SetInt(GRPC_ARG_HTTP2_BDP_PROBE, 0);
  small.SetInt(GRPC_ARG_HTTP2_STREAM_LOOKAHEAD_BYTES, 1);
  const auto stub = v1::AlertService::NewStub(grpc::CreateCustomChannel(
      address_, grpc::InsecureChannelCredentials(), small));
  const auto follow = [&stub](int64_t position, grpc::ClientContext& context) {
    SayWho(context);
    v1::FollowAlertsRequest request;
    request.set_after_position(position);
    return stub->FollowAlerts(&context, request);
  };
  grpc::ClientContext context;
  auto stream = follow(0, context);
  stream->WaitForInitialMetadata();
  for (int n = kAlerts; n < kAlerts + kMore; ++n) {
    ASSERT_TRUE(Submit(event_of(n)).ok());
    callers_clock_.MoveTo(callers_clock_.Now() + absl::Minutes(2));
  }
  std::set<std::string> seen;
  v1::Alert alert;
  while (seen.size() < kAlerts + kMore && stream->Read(&alert)) {
    seen.insert(alert.alert_id());
  }
  ASSERT_LT(seen.size(), size_t{kAlerts});
  EXPECT_EQ(stream->Finish().error_code(), grpc::StatusCode::CANCELLED);
  grpc::ClientContext again;
  stream = follow(alert.position(), again);
  while (seen.size() < kAlerts + kMore && stream->Read(&alert)) {
    seen.insert(alert.alert_id());
  }
  again.TryCancel();
  (void)stream->Finish();
  EXPECT_EQ(seen.size(), size_t{kAlerts + kMore});
}

class FullDiskRpcTest : public RpcTest {
 protected:
  FullDiskRpcTest() { Start(std::nullopt); }
  // Before its file system goes.
  void TearDown() override {
    server_->Shutdown();
    thread_->Stop();
    server_.reset();
    core_.reset();
  }
  FailingVfs vfs_;
};

// Three take the same id for different facts, and two of them share a commit
// that is refused. That the id was taken would be untrue then.
TEST_F(FullDiskRpcTest, RefusalThatRestsOnWhatWasNotRecordedIsNotTold) {
  Serve({.queue_max = 2, .batch_max = 10});
  std::vector<std::future<grpc::Status>> calls;
  for (int percent = 10; percent <= 30; percent += 10) {
    calls.push_back(std::async(std::launch::async, [&, percent] {
      return Submit(Confidence("e", At("2027-01-04T09:00:00Z"), percent));
    }));
  }
  // Once one has found the queue full, the other two are in it.
  bool refused = false;
  while (!refused) {
    for (auto& call : calls) {
      refused = refused || call.wait_for(std::chrono::milliseconds(1)) ==
                               std::future_status::ready;
    }
  }
  vfs_.FailOnce(FailingVfs::Call::kWrite, 1, "-wal", SQLITE_FULL);
  thread_->Start();
  int full = 0;
  for (auto& call : calls) {
    const grpc::Status status = call.get();
    EXPECT_EQ(status.error_code(), grpc::StatusCode::RESOURCE_EXHAUSTED)
        << status.error_message();
    if (status.error_message().find("disk is full") != std::string::npos) {
      ++full;
    }
  }
  EXPECT_EQ(full, 2);
}

TEST_F(RpcTest, CallerWhoStoppedWaitingHasNoEffect) {
  Serve({});
  EXPECT_EQ(Submit(Event(1), absl::Milliseconds(50)).error_code(),
            grpc::StatusCode::DEADLINE_EXCEEDED);
  thread_->Start();
  ASSERT_TRUE(Submit(Event(2)).ok());
  EXPECT_EQ(core_->AlertsAfter("", 0, 10, SiteScope::All())->size(), 1u);
}

TEST_F(RpcTest, ParallelCallersStreamsAndFollowersThatLeaveMidway) {
  Serve({});
  thread_->Start();
  std::vector<std::thread> callers;
  std::atomic<int> accepted{0};
  for (int c = 0; c < 3; ++c) {
    callers.emplace_back([&, c] {
      for (int i = 0; i < 20; ++i) {
        if (Submit(Event(c * 1000 + i)).ok()) ++accepted;
      }
    });
    callers.emplace_back([&, c] {
      grpc::ClientContext context;
      SayWho(context);
      auto stream = submit_->SubmitStream(&context);
      for (int i = 0; i < 20; ++i) {
        v1::SubmitRequest request;
        *request.mutable_event() = Event(c * 1000 + 500 + i);
        stream->Write(request);
      }
      v1::SubmitStreamResponse response;
      for (int i = 0; i < 10 && stream->Read(&response); ++i) {
        if (response.has_accepted()) ++accepted;
      }
      context.TryCancel();  // leaves with answers outstanding
      (void)stream->Finish();
    });
    callers.emplace_back([&] {
      grpc::ClientContext context;
      SayWho(context);
      v1::FollowAlertsRequest request;
      request.set_after_position(0);
      auto stream = work_->FollowAlerts(&context, request);
      v1::Alert alert;
      EXPECT_TRUE(stream->Read(&alert));
      context.TryCancel();
      (void)stream->Finish();
    });
  }
  for (std::thread& caller : callers) caller.join();
  EXPECT_EQ(accepted, 3 * 20 + 3 * 10);
}

TEST_F(RpcTest, AnAlertIsExplainedAndSoIsARulesSilence) {
  Serve({});
  thread_->Start();
  ASSERT_TRUE(Submit(Event(1)).ok());
  grpc::ClientContext why;
  SayWho(why);
  v1::ExplainAlertRequest alert;
  alert.set_alert_id("A-1");
  v1::AlertExplanation explanation;
  const grpc::Status told = work_->ExplainAlert(&why, alert, &explanation);
  ASSERT_TRUE(told.ok()) << told.error_message();
  EXPECT_EQ(explanation.alert().rule().rule(), "low-practice-confidence");
  EXPECT_GT(explanation.outcome_size(), 1);

  grpc::ClientContext why_not;
  SayWho(why_not);
  v1::ExplainRuleRequest rule;
  rule.set_participant("p1");
  rule.set_rule("score-above-range");
  v1::RuleExplanation silence;
  ASSERT_TRUE(course_->ExplainRule(&why_not, rule, &silence).ok());
  EXPECT_EQ(silence.outcome().outcome(), v1::OUTCOME_NOT_ASKED);

  grpc::ClientContext mistyped;
  SayWho(mistyped);
  rule.set_rule("score-above-rage");
  const grpc::Status none = course_->ExplainRule(&mistyped, rule, &silence);
  EXPECT_EQ(none.error_code(), grpc::StatusCode::NOT_FOUND);
  EXPECT_THAT(none.error_message(), HasSubstr("\"score-above-range\"?"));
}

// Source: audit.proto. What each kind of answer shows is in
// service/rpc/looks_at.cc.
TEST_F(RpcTest, WhoeverSawSomethingOfAParticipantIsOnRecord) {
  Serve({});
  thread_->Start();
  ASSERT_TRUE(Submit(Event(1)).ok());
  const auto call = [](auto& stub, auto method, const auto& request,
                       auto response) {
    grpc::ClientContext context;
    SayWho(context);
    return (stub.*method)(&context, request, &response);
  };
  v1::GetAlertRequest alert;
  alert.set_alert_id("A-1");
  v1::ExplainAlertRequest why;
  why.set_alert_id("A-1");
  v1::GetParticipantRequest page;
  page.set_participant("p1");
  v1::ExplainRuleRequest rule;
  rule.set_participant("p1");
  rule.set_rule("score-above-range");
  using AlertStub = v1::AlertService::Stub;
  using CourseStub = v1::ParticipantService::Stub;
  EXPECT_TRUE(call(*work_, &AlertStub::ListAlerts, v1::ListAlertsRequest(),
                   v1::ListAlertsResponse())
                  .ok());
  EXPECT_TRUE(call(*work_, &AlertStub::GetAlert, alert, v1::Alert()).ok());
  EXPECT_TRUE(
      call(*work_, &AlertStub::ExplainAlert, why, v1::AlertExplanation()).ok());
  EXPECT_TRUE(
      call(*course_, &CourseStub::GetParticipant, page, v1::ParticipantView())
          .ok());
  EXPECT_TRUE(
      call(*course_, &CourseStub::ExplainRule, rule, v1::RuleExplanation())
          .ok());
  // One that is refused shows nothing.
  page.set_participant("p2");
  EXPECT_FALSE(
      call(*course_, &CourseStub::GetParticipant, page, v1::ParticipantView())
          .ok());
  {
    grpc::ClientContext context;
    SayWho(context);
    v1::FollowAlertsRequest request;
    request.set_after_position(0);
    auto stream = work_->FollowAlerts(&context, request);
    v1::Alert followed;
    EXPECT_TRUE(stream->Read(&followed));
    context.TryCancel();
    (void)stream->Finish();
  }
  thread_->Stop();
  Start(std::nullopt);
  v1::ListDisclosuresRequest request;
  request.set_participant("p1");
  const v1::Disclosures listed =
      core_->ListDisclosures(request, SiteScope::All()).value();
  std::vector<std::string> seen;
  for (const v1::Disclosure& one : listed.disclosure()) {
    EXPECT_EQ(one.by().name(), "r.sorrel");
    seen.push_back(one.what());
  }
  EXPECT_THAT(seen,
              testing::ElementsAre("saw a list with the alert", "saw the alert",
                                   "saw why the alert was raised",
                                   "saw the participant's page",
                                   "saw what a rule says of the participant",
                                   "followed the alert"));
}

TEST_F(RpcTest, StoppingEndsAFollowerWithWordsToGoOnBy) {
  Serve({});
  thread_->Start();
  grpc::ClientContext context;
  SayWho(context);
  auto stream = work_->FollowAlerts(&context, v1::FollowAlertsRequest());
  stream->WaitForInitialMetadata();
  hub_.Close();
  v1::Alert alert;
  EXPECT_FALSE(stream->Read(&alert));
  const grpc::Status status = stream->Finish();
  EXPECT_EQ(status.error_code(), grpc::StatusCode::UNAVAILABLE);
  EXPECT_THAT(status.error_message(), HasSubstr("from the last position"));
}

}  // namespace
}  // namespace turnstone

// The rule service on a real port, with a proof of the test's own. Not under
// the thread sanitizer, as rpc_test.cc.
#include "service/rpc/rule_service.h"

#include <gmock/gmock.h>
#include <grpcpp/create_channel.h>
#include <grpcpp/server_builder.h>
#include <gtest/gtest.h>

#include <future>
#include <thread>
#include <vector>

#include "service/core/configuration.h"
#include "tests/core/core_fixture.h"
#include "tests/support/rule_changes.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class RuleServiceTest : public CoreFixture {
 protected:
  void Serve(Prover prover) {
    thread_ =
        std::make_unique<CommitThread>(*core_, hub_, CommitThreadOptions());
    service_ = std::make_unique<RuleServiceImpl>(Entrance{*thread_, limits_},
                                                 std::move(prover));
    grpc::ServerBuilder builder;
    int port = 0;
    builder.AddListeningPort("127.0.0.1:0", grpc::InsecureServerCredentials(),
                             &port);
    builder.RegisterService(service_.get());
    server_ = builder.BuildAndStart();
    stub_ = v1::RuleService::NewStub(
        grpc::CreateChannel("127.0.0.1:" + std::to_string(port),
                            grpc::InsecureChannelCredentials()));
    thread_->Start();
  }
  ~RuleServiceTest() override {
    if (server_ == nullptr) return;
    hub_.Close();
    server_->Shutdown();
    service_->Stop();
    thread_->Stop();
  }

  static void SayWho(const std::string& name, const std::string& role,
                     grpc::ClientContext& context) {
    context.AddMetadata("turnstone-name", name);
    context.AddMetadata("turnstone-role", role);
  }
  grpc::Status Activate(const std::string& digest, v1::RuleVersion& version) {
    grpc::ClientContext context;
    SayWho("k.heron", "programme-lead", context);
    v1::ActivateVersionRequest request;
    request.set_digest(digest);
    request.set_reason("agreed");
    return stub_->ActivateVersion(&context, request, &version);
  }
  // Event ids as the stream brings them; the first one's total.
  grpc::Status Read(const std::string& name, const std::string& role,
                    std::vector<std::string>& ids, int64_t& total) {
    grpc::ClientContext context;
    SayWho(name, role, context);
    const auto stream = stub_->ReadEvents(&context, v1::ReadEventsRequest());
    v1::RecordedEvent event;
    while (stream->Read(&event)) {
      if (ids.empty()) total = event.total();
      ids.push_back(event.event().event_id());
    }
    return stream->Finish();
  }

  ChangeHub hub_;
  Limits limits_{clock_};
  std::unique_ptr<CommitThread> thread_;
  std::unique_ptr<RuleServiceImpl> service_;
  std::unique_ptr<grpc::Server> server_;
  std::unique_ptr<v1::RuleService::Stub> stub_;
};

TEST_F(RuleServiceTest, AProofComesBeforeTheActivation) {
  const v1::Configuration lower = WithOverride("above-range", 16);
  ASSERT_TRUE(core_->Offer(lower).ok());
  std::string proved;
  Serve([&proved](const v1::Configuration& configuration, absl::Time) {
    proved = DigestOf(configuration);
    return absl::StatusOr<std::string>("two properties hold");
  });
  v1::RuleVersion version;
  const grpc::Status status = Activate(DigestOf(lower), version);
  ASSERT_TRUE(status.ok()) << status.error_message();
  EXPECT_EQ(proved, DigestOf(lower));
  EXPECT_EQ(version.status(), v1::VERSION_STATUS_IN_FORCE);
  EXPECT_EQ(version.history(version.history_size() - 1).proof(),
            "two properties hold");
}

TEST_F(RuleServiceTest, WhatCannotBeProvedStaysOutOfForce) {
  const v1::Configuration lower = WithOverride("above-range", 16);
  ASSERT_TRUE(core_->Offer(lower).ok());
  Serve([](const v1::Configuration&, absl::Time) {
    return absl::StatusOr<std::string>(
        absl::FailedPreconditionError("a case is left out"));
  });
  v1::RuleVersion version;
  const grpc::Status status = Activate(DigestOf(lower), version);
  EXPECT_EQ(status.error_code(), grpc::StatusCode::FAILED_PRECONDITION);
  EXPECT_EQ(status.error_message(), "a case is left out");
  thread_->Stop();
  EXPECT_EQ(DigestOf(core_->configuration()), DigestOf(WithoutSignOfLife()));
}

// The commit thread goes on meanwhile, and another call has its answer.
TEST_F(RuleServiceTest, NobodyWaitsForAProof) {
  const v1::Configuration lower = WithOverride("above-range", 16);
  ASSERT_TRUE(core_->Offer(lower).ok());
  std::promise<void> go_on;
  std::promise<void> began;
  Serve([&](const v1::Configuration&, absl::Time) {
    began.set_value();
    go_on.get_future().wait();
    return absl::StatusOr<std::string>("proved");
  });
  v1::RuleVersion version;
  auto call = std::async(std::launch::async, [&] {
    return Activate(DigestOf(lower), version).ok();
  });
  began.get_future().wait();
  grpc::ClientContext context;
  SayWho("k.heron", "programme-lead", context);
  v1::VersionList list;
  EXPECT_TRUE(
      stub_->ListVersions(&context, v1::ListVersionsRequest(), &list).ok());
  EXPECT_EQ(list.version(1).status(), v1::VERSION_STATUS_PROPOSED);
  go_on.set_value();
  EXPECT_TRUE(call.get());
}

TEST_F(RuleServiceTest, TheWholeRecordComesInTheOrderOfAcceptance) {
  // More than a page of them.
  std::vector<std::string> sent;
  for (int n = 0; n < 1100; ++n) {
    sent.push_back("e" + std::to_string(n));
    ASSERT_TRUE(
        core_
            ->StageSubmit(
                Confidence(sent.back(), At("2027-01-04T09:00:00Z"), 95), by_)
            .ok());
  }
  ASSERT_TRUE(core_->Commit().ok());
  Serve([](const v1::Configuration&, absl::Time) {
    return absl::StatusOr<std::string>("");
  });
  std::vector<std::string> ids;
  int64_t total = 0;
  ASSERT_TRUE(Read("k.heron", "programme-lead", ids, total).ok());
  EXPECT_EQ(ids, sent);
  EXPECT_EQ(total, 1100);

  ids.clear();
  const grpc::Status status = Read("r.sorrel", "clinician", ids, total);
  EXPECT_EQ(status.error_code(), grpc::StatusCode::PERMISSION_DENIED);
  EXPECT_THAT(status.error_message(), HasSubstr("these may: programme lead"));
  EXPECT_THAT(ids, ElementsAre());
}

}  // namespace
}  // namespace turnstone

// A service that answers what the test says, on a port of its own.
#pragma once

#include <grpcpp/grpcpp.h>

#include <atomic>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone::cli {

// Set what it answers before the first call; look at what it heard after the
// last one.
class FakeService final : public v1::EventService::Service,
                          public v1::AlertService::Service,
                          public v1::ParticipantService::Service,
                          public v1::DutyService::Service,
                          public v1::ClockService::Service {
 public:
  FakeService();
  ~FakeService() override;

  FakeService(const FakeService&) = delete;
  FakeService& operator=(const FakeService&) = delete;

  [[nodiscard]] std::string address() const;

  using SubmitCall =
      grpc::ServerReaderWriter<v1::SubmitStreamResponse, v1::SubmitRequest>;
  std::function<grpc::Status(SubmitCall&)> submit;
  std::function<grpc::Status(const v1::ListAlertsRequest&,
                             v1::ListAlertsResponse&)>
      list;
  std::function<grpc::Status(const v1::GetAlertRequest&, v1::Alert&)> get;
  std::function<grpc::Status(const v1::WorkAlertRequest&, v1::Alert&)> work;
  std::function<grpc::Status(grpc::ServerContext&,
                             const v1::FollowAlertsRequest&,
                             grpc::ServerWriter<v1::Alert>&)>
      follow;
  std::function<grpc::Status(const v1::GetParticipantRequest&,
                             v1::ParticipantView&)>
      participant;
  std::function<grpc::Status(const v1::ExplainAlertRequest&,
                             v1::AlertExplanation&)>
      why;
  std::function<grpc::Status(const v1::ExplainRuleRequest&,
                             v1::RuleExplanation&)>
      why_not;
  std::function<grpc::Status(const v1::AdvanceClockRequest&, v1::Clock&)>
      advance;
  std::function<grpc::Status(const v1::GetOnCallRequest&, v1::OnCall&)> on_call;
  std::function<grpc::Status(const v1::GetHandoverRequest&, v1::Handover&)>
      handover;
  std::function<grpc::Status(const v1::OfferHandoverRequest&, v1::Handover&)>
      offer;
  std::function<grpc::Status(const v1::AnswerHandoverRequest&, v1::Handover&)>
      answer;
  std::function<grpc::Status(const v1::ListDueRequest&, v1::DueList&)> due;
  std::function<grpc::Status(const v1::ListOutboxRequest&, v1::Outbox&)> outbox;
  std::function<grpc::Status(const v1::GetBurdenRequest&, v1::Burden&)> burden;
  v1::Clock now;

  // "NAME,ROLE" of the latest call, and whether it carried a deadline.
  std::string caller;
  bool had_deadline = false;

 private:
  grpc::Status SubmitStream(grpc::ServerContext* context,
                            SubmitCall* call) override;
  grpc::Status ListAlerts(grpc::ServerContext* context,
                          const v1::ListAlertsRequest* request,
                          v1::ListAlertsResponse* response) override;
  grpc::Status GetAlert(grpc::ServerContext* context,
                        const v1::GetAlertRequest* request,
                        v1::Alert* response) override;
  grpc::Status WorkAlert(grpc::ServerContext* context,
                         const v1::WorkAlertRequest* request,
                         v1::Alert* response) override;
  grpc::Status FollowAlerts(grpc::ServerContext* context,
                            const v1::FollowAlertsRequest* request,
                            grpc::ServerWriter<v1::Alert>* writer) override;
  grpc::Status GetParticipant(grpc::ServerContext* context,
                              const v1::GetParticipantRequest* request,
                              v1::ParticipantView* response) override;
  grpc::Status ExplainAlert(grpc::ServerContext* context,
                            const v1::ExplainAlertRequest* request,
                            v1::AlertExplanation* response) override;
  grpc::Status ExplainRule(grpc::ServerContext* context,
                           const v1::ExplainRuleRequest* request,
                           v1::RuleExplanation* response) override;
  grpc::Status GetClock(grpc::ServerContext* context,
                        const v1::GetClockRequest* request,
                        v1::Clock* response) override;
  grpc::Status AdvanceClock(grpc::ServerContext* context,
                            const v1::AdvanceClockRequest* request,
                            v1::Clock* response) override;

  grpc::Status GetOnCall(grpc::ServerContext* context,
                         const v1::GetOnCallRequest* request,
                         v1::OnCall* response) override;
  grpc::Status GetHandover(grpc::ServerContext* context,
                           const v1::GetHandoverRequest* request,
                           v1::Handover* response) override;
  grpc::Status OfferHandover(grpc::ServerContext* context,
                             const v1::OfferHandoverRequest* request,
                             v1::Handover* response) override;
  grpc::Status AnswerHandover(grpc::ServerContext* context,
                              const v1::AnswerHandoverRequest* request,
                              v1::Handover* response) override;
  grpc::Status ListDue(grpc::ServerContext* context,
                       const v1::ListDueRequest* request,
                       v1::DueList* response) override;
  grpc::Status ListOutbox(grpc::ServerContext* context,
                          const v1::ListOutboxRequest* request,
                          v1::Outbox* response) override;
  grpc::Status GetBurden(grpc::ServerContext* context,
                         const v1::GetBurdenRequest* request,
                         v1::Burden* response) override;

  void Note(const grpc::ServerContext& context);

  int port_ = 0;
  std::unique_ptr<grpc::Server> server_;
};

}  // namespace turnstone::cli

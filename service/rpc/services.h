// The gRPC services: shape, identity, and the way to the commit thread. They
// decide nothing.
#pragma once

#include "platform/clock.h"
#include "service/core/change_hub.h"
#include "service/rpc/background.h"
#include "service/rpc/entrance.h"
#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone {

// All thread-safe. What they are given must outlive them.
class EventServiceImpl final : public v1::EventService::CallbackService {
 public:
  explicit EventServiceImpl(const Entrance& entrance) : entrance_(entrance) {}
  grpc::ServerUnaryReactor* Submit(grpc::CallbackServerContext* context,
                                   const v1::SubmitRequest* request,
                                   v1::SubmitResponse* response) override;
  grpc::ServerBidiReactor<v1::SubmitRequest, v1::SubmitStreamResponse>*
  SubmitStream(grpc::CallbackServerContext* context) override;

 private:
  const Entrance entrance_;
};

class AlertServiceImpl final : public v1::AlertService::CallbackService {
 public:
  AlertServiceImpl(const Entrance& entrance, ChangeHub& hub)
      : entrance_(entrance), hub_(hub) {}
  grpc::ServerUnaryReactor* ListAlerts(
      grpc::CallbackServerContext* context,
      const v1::ListAlertsRequest* request,
      v1::ListAlertsResponse* response) override;
  grpc::ServerUnaryReactor* GetAlert(grpc::CallbackServerContext* context,
                                     const v1::GetAlertRequest* request,
                                     v1::Alert* response) override;
  grpc::ServerUnaryReactor* ExplainAlert(
      grpc::CallbackServerContext* context,
      const v1::ExplainAlertRequest* request,
      v1::AlertExplanation* response) override;
  grpc::ServerUnaryReactor* WorkAlert(grpc::CallbackServerContext* context,
                                      const v1::WorkAlertRequest* request,
                                      v1::Alert* response) override;
  grpc::ServerWriteReactor<v1::Alert>* FollowAlerts(
      grpc::CallbackServerContext* context,
      const v1::FollowAlertsRequest* request) override;

 private:
  const Entrance entrance_;
  ChangeHub& hub_;
};

class ParticipantServiceImpl final
    : public v1::ParticipantService::CallbackService {
 public:
  explicit ParticipantServiceImpl(const Entrance& entrance)
      : entrance_(entrance) {}
  grpc::ServerUnaryReactor* GetParticipant(
      grpc::CallbackServerContext* context,
      const v1::GetParticipantRequest* request,
      v1::ParticipantView* response) override;
  grpc::ServerUnaryReactor* ExplainRule(grpc::CallbackServerContext* context,
                                        const v1::ExplainRuleRequest* request,
                                        v1::RuleExplanation* response) override;

  // Finishes the explanations under way; every call about one has its answer
  // then.
  void Stop() { background_.Stop(); }

 private:
  const Entrance entrance_;
  Background background_;
};

class DutyServiceImpl final : public v1::DutyService::CallbackService {
 public:
  // `sending`: whether the service sends what it owes.
  DutyServiceImpl(const Entrance& entrance, bool sending)
      : entrance_(entrance), sending_(sending) {}
  grpc::ServerUnaryReactor* GetOnCall(grpc::CallbackServerContext* context,
                                      const v1::GetOnCallRequest* request,
                                      v1::OnCall* response) override;
  grpc::ServerUnaryReactor* GetHandover(grpc::CallbackServerContext* context,
                                        const v1::GetHandoverRequest* request,
                                        v1::Handover* response) override;
  grpc::ServerUnaryReactor* OfferHandover(
      grpc::CallbackServerContext* context,
      const v1::OfferHandoverRequest* request, v1::Handover* response) override;
  grpc::ServerUnaryReactor* AnswerHandover(
      grpc::CallbackServerContext* context,
      const v1::AnswerHandoverRequest* request,
      v1::Handover* response) override;
  grpc::ServerUnaryReactor* ListDue(grpc::CallbackServerContext* context,
                                    const v1::ListDueRequest* request,
                                    v1::DueList* response) override;
  grpc::ServerUnaryReactor* ListOutbox(grpc::CallbackServerContext* context,
                                       const v1::ListOutboxRequest* request,
                                       v1::Outbox* response) override;
  grpc::ServerUnaryReactor* GetBurden(grpc::CallbackServerContext* context,
                                      const v1::GetBurdenRequest* request,
                                      v1::Burden* response) override;

 private:
  const Entrance entrance_;
  const bool sending_;
};

class AuditServiceImpl final : public v1::AuditService::CallbackService {
 public:
  explicit AuditServiceImpl(const Entrance& entrance) : entrance_(entrance) {}
  grpc::ServerUnaryReactor* ListDisclosures(
      grpc::CallbackServerContext* context,
      const v1::ListDisclosuresRequest* request,
      v1::Disclosures* response) override;

 private:
  const Entrance entrance_;
};

class ClockServiceImpl final : public v1::ClockService::CallbackService {
 public:
  // `simulated` is null when the service runs on real time.
  ClockServiceImpl(const Entrance& entrance, SimulatedClock* simulated)
      : entrance_(entrance), simulated_(simulated) {}
  grpc::ServerUnaryReactor* GetClock(grpc::CallbackServerContext* context,
                                     const v1::GetClockRequest* request,
                                     v1::Clock* response) override;
  grpc::ServerUnaryReactor* AdvanceClock(grpc::CallbackServerContext* context,
                                         const v1::AdvanceClockRequest* request,
                                         v1::Clock* response) override;

 private:
  const Entrance entrance_;
  SimulatedClock* simulated_;
};

}  // namespace turnstone

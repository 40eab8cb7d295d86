#include "service/rpc/services.h"

#include <utility>

#include "service/core/advance.h"
#include "service/rpc/follow.h"
#include "service/rpc/refused.h"
#include "service/rpc/submit_stream.h"
#include "service/rpc/unary.h"

namespace turnstone {
grpc::ServerUnaryReactor* EventServiceImpl::Submit(
    grpc::CallbackServerContext* context, const v1::SubmitRequest* request,
    v1::SubmitResponse* response) {
  return RunChange(context, entrance_, request, response,
                   [request](Core& core, const Caller& caller) {
                     return core.StageSubmit(request->event(), caller.by);
                   });
}

grpc::ServerBidiReactor<v1::SubmitRequest, v1::SubmitStreamResponse>*
EventServiceImpl::SubmitStream(grpc::CallbackServerContext* context) {
  absl::StatusOr<Entered> entered =
      Enter(*context, entrance_.limits, CallKind::kSubmitStream);
  if (!entered.ok()) {
    return new Refused<
        grpc::ServerBidiReactor<v1::SubmitRequest, v1::SubmitStreamResponse>>(
        entered.status());
  }
  return new SubmitStreamReactor(entrance_.thread, *std::move(entered));
}

grpc::ServerUnaryReactor* AlertServiceImpl::ListAlerts(
    grpc::CallbackServerContext* context, const v1::ListAlertsRequest* request,
    v1::ListAlertsResponse* response) {
  return RunRead(context, entrance_, request, response, &Core::ListAlerts);
}

grpc::ServerUnaryReactor* AlertServiceImpl::GetAlert(
    grpc::CallbackServerContext* context, const v1::GetAlertRequest* request,
    v1::Alert* response) {
  return RunRead(context, entrance_, request, response,
                 [request](Core& core, const Caller& caller) {
                   return core.GetAlert(request->alert_id(), caller.sites);
                 });
}

grpc::ServerUnaryReactor* AlertServiceImpl::ExplainAlert(
    grpc::CallbackServerContext* context,
    const v1::ExplainAlertRequest* request, v1::AlertExplanation* response) {
  return RunRead(context, entrance_, request, response, &Core::ExplainAlert);
}

grpc::ServerUnaryReactor* AlertServiceImpl::WorkAlert(
    grpc::CallbackServerContext* context, const v1::WorkAlertRequest* request,
    v1::Alert* response) {
  return RunChange(context, entrance_, request, response, &Core::StageWork);
}

grpc::ServerWriteReactor<v1::Alert>* AlertServiceImpl::FollowAlerts(
    grpc::CallbackServerContext* context,
    const v1::FollowAlertsRequest* request) {
  absl::StatusOr<Entered> entered =
      Enter(*context, entrance_.limits, CallKind::kReadStream);
  if (!entered.ok()) {
    return new Refused<grpc::ServerWriteReactor<v1::Alert>>(entered.status());
  }
  return new FollowReactor(*context, entrance_, hub_, *request,
                           *std::move(entered));
}

grpc::ServerUnaryReactor* ParticipantServiceImpl::GetParticipant(
    grpc::CallbackServerContext* context,
    const v1::GetParticipantRequest* request, v1::ParticipantView* response) {
  return RunRead(context, entrance_, request, response, &Core::GetParticipant);
}

grpc::ServerUnaryReactor* ParticipantServiceImpl::ExplainRule(
    grpc::CallbackServerContext* context, const v1::ExplainRuleRequest* request,
    v1::RuleExplanation* response) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<Entered> entered =
      Enter(*context, entrance_.limits, CallKind::kRead);
  if (!entered.ok()) {
    reactor->Finish(ToGrpc(entered.status()));
    return reactor;
  }
  const auto explain = [=](const RuleAsked& asked) {
    absl::StatusOr<v1::RuleExplanation> explanation =
        context->IsCancelled() ? GaveUp() : ExplainSilence(asked);
    const grpc::Status status = ToGrpc(explanation.status());
    if (explanation.ok()) *response = *std::move(explanation);
    reactor->Finish(status);
  };
  const bool taken = entrance_.thread.PushRead(
      [=, this, entered = *entered](Core& core) {
        const absl::StatusOr<Caller> caller =
            PassGate(core, entered.who, *request);
        absl::StatusOr<RuleAsked> asked =
            caller.ok() ? core.AskRule(*request, caller->sites)
                        : caller.status();
        if (!asked.ok()) return reactor->Finish(ToGrpc(asked.status()));
        NoteLooks(caller->by, *asked, core);
        const bool taken_up =
            background_.Push([=, pass = entered.pass,
                              asked = *std::move(asked)] { explain(asked); });
        if (!taken_up) reactor->Finish(ToGrpc(QueueFull()));
      },
      entered->source);
  if (!taken) reactor->Finish(ToGrpc(QueueFull()));
  return reactor;
}

grpc::ServerUnaryReactor* AuditServiceImpl::ListDisclosures(
    grpc::CallbackServerContext* context,
    const v1::ListDisclosuresRequest* request, v1::Disclosures* response) {
  return RunRead(context, entrance_, request, response, &Core::ListDisclosures);
}

grpc::ServerUnaryReactor* ClockServiceImpl::GetClock(
    grpc::CallbackServerContext* context, const v1::GetClockRequest* request,
    v1::Clock* response) {
  const bool simulated = simulated_ != nullptr;
  return RunRead(
      context, entrance_, request, response,
      [simulated](Core& core, const Caller& /*caller*/)
          -> absl::StatusOr<v1::Clock> { return ClockOf(core, simulated); });
}

grpc::ServerUnaryReactor* ClockServiceImpl::AdvanceClock(
    grpc::CallbackServerContext* context,
    const v1::AdvanceClockRequest* request, v1::Clock* response) {
  SimulatedClock* const clock = simulated_;
  return RunRead(context, entrance_, request, response,
                 [request, clock](Core& core, const Caller& caller) {
                   return Advance(core, clock, request->by(), caller.by);
                 });
}

}  // namespace turnstone

#include "service/rpc/services.h"

#include "service/core/advance.h"
#include "service/rpc/follow.h"
#include "service/rpc/submit_stream.h"
#include "service/rpc/unary.h"

namespace turnstone {
namespace {

// Ends a streaming call at once.
template <typename Reactor>
class Refused final : public Reactor {
 public:
  explicit Refused(const absl::Status& status) { this->Finish(ToGrpc(status)); }
  void OnDone() override { delete this; }
};

}  // namespace

grpc::ServerUnaryReactor* EventServiceImpl::Submit(
    grpc::CallbackServerContext* context, const v1::SubmitRequest* request,
    v1::SubmitResponse* response) {
  return RunChange(context, thread_, response,
                   [request](Core& core, const v1::Actor& by) {
                     return core.StageSubmit(request->event(), by);
                   });
}

grpc::ServerBidiReactor<v1::SubmitRequest, v1::SubmitStreamResponse>*
EventServiceImpl::SubmitStream(grpc::CallbackServerContext* context) {
  absl::StatusOr<v1::Actor> caller = DecideCaller(*context);
  if (!caller.ok()) {
    return new Refused<
        grpc::ServerBidiReactor<v1::SubmitRequest, v1::SubmitStreamResponse>>(
        caller.status());
  }
  return new SubmitStreamReactor(thread_, *std::move(caller));
}

grpc::ServerUnaryReactor* AlertServiceImpl::ListAlerts(
    grpc::CallbackServerContext* context, const v1::ListAlertsRequest* request,
    v1::ListAlertsResponse* response) {
  return RunRead(context, thread_, request, response, &Core::ListAlerts);
}

grpc::ServerUnaryReactor* AlertServiceImpl::GetAlert(
    grpc::CallbackServerContext* context, const v1::GetAlertRequest* request,
    v1::Alert* response) {
  return RunRead(context, thread_, response,
                 [request](Core& core, const v1::Actor& /*by*/) {
                   return core.GetAlert(request->alert_id());
                 });
}

grpc::ServerUnaryReactor* AlertServiceImpl::WorkAlert(
    grpc::CallbackServerContext* context, const v1::WorkAlertRequest* request,
    v1::Alert* response) {
  return RunChange(context, thread_, request, response, &Core::StageWork);
}

grpc::ServerWriteReactor<v1::Alert>* AlertServiceImpl::FollowAlerts(
    grpc::CallbackServerContext* context,
    const v1::FollowAlertsRequest* request) {
  const absl::StatusOr<v1::Actor> caller = DecideCaller(*context);
  if (!caller.ok()) {
    return new Refused<grpc::ServerWriteReactor<v1::Alert>>(caller.status());
  }
  return new FollowReactor(thread_, hub_, *request);
}

grpc::ServerUnaryReactor* ParticipantServiceImpl::GetParticipant(
    grpc::CallbackServerContext* context,
    const v1::GetParticipantRequest* request, v1::ParticipantView* response) {
  return RunRead(context, thread_, request, response, &Core::GetParticipant);
}

grpc::ServerUnaryReactor* ClockServiceImpl::GetClock(
    grpc::CallbackServerContext* context,
    const v1::GetClockRequest* /*request*/, v1::Clock* response) {
  const bool simulated = simulated_ != nullptr;
  return RunRead(
      context, thread_, response,
      [simulated](Core& core, const v1::Actor& /*by*/)
          -> absl::StatusOr<v1::Clock> { return ClockOf(core, simulated); });
}

grpc::ServerUnaryReactor* ClockServiceImpl::AdvanceClock(
    grpc::CallbackServerContext* context,
    const v1::AdvanceClockRequest* request, v1::Clock* response) {
  SimulatedClock* const clock = simulated_;
  return RunRead(context, thread_, response,
                 [request, clock](Core& core, const v1::Actor& by) {
                   return Advance(core, clock, request->by(), by);
                 });
}

}  // namespace turnstone

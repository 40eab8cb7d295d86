#include "service/rpc/services.h"
#include "service/rpc/unary.h"

namespace turnstone {

grpc::ServerUnaryReactor* DutyServiceImpl::GetOnCall(
    grpc::CallbackServerContext* context, const v1::GetOnCallRequest* request,
    v1::OnCall* response) {
  return RunRead(context, entrance_, request, response,
                 [request](Core& core, const Caller& /*caller*/) {
                   return core.GetOnCall(*request);
                 });
}

grpc::ServerUnaryReactor* DutyServiceImpl::GetHandover(
    grpc::CallbackServerContext* context, const v1::GetHandoverRequest* request,
    v1::Handover* response) {
  return RunRead(context, entrance_, request, response, &Core::GetHandover);
}

grpc::ServerUnaryReactor* DutyServiceImpl::OfferHandover(
    grpc::CallbackServerContext* context,
    const v1::OfferHandoverRequest* request, v1::Handover* response) {
  return RunChange(context, entrance_, request, response, &Core::StageOffer);
}

grpc::ServerUnaryReactor* DutyServiceImpl::AnswerHandover(
    grpc::CallbackServerContext* context,
    const v1::AnswerHandoverRequest* request, v1::Handover* response) {
  return RunChange(context, entrance_, request, response, &Core::StageAnswer);
}

grpc::ServerUnaryReactor* DutyServiceImpl::ListDue(
    grpc::CallbackServerContext* context, const v1::ListDueRequest* request,
    v1::DueList* response) {
  return RunRead(context, entrance_, request, response, &Core::ListDue);
}

grpc::ServerUnaryReactor* DutyServiceImpl::ListOutbox(
    grpc::CallbackServerContext* context, const v1::ListOutboxRequest* request,
    v1::Outbox* response) {
  const bool sending = sending_;
  return RunRead(context, entrance_, request, response,
                 [request, sending](Core& core, const Caller& caller) {
                   absl::StatusOr<v1::Outbox> outbox =
                       core.ListOutbox(*request, caller.sites);
                   if (outbox.ok()) outbox->set_sending(sending);
                   return outbox;
                 });
}

grpc::ServerUnaryReactor* DutyServiceImpl::GetBurden(
    grpc::CallbackServerContext* context, const v1::GetBurdenRequest* request,
    v1::Burden* response) {
  return RunRead(context, entrance_, request, response, &Core::GetBurden);
}

}  // namespace turnstone

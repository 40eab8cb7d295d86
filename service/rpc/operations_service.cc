#include "service/rpc/operations_service.h"

#include <utility>

#include "service/rpc/back_up.h"
#include "service/rpc/refused.h"
#include "service/rpc/unary.h"

namespace turnstone {

grpc::ServerWriteReactor<v1::BackUpProgress>* OperationsServiceImpl::BackUp(
    grpc::CallbackServerContext* context,
    const v1::BackUpRequest* /*request*/) {
  absl::StatusOr<v1::Actor> caller = DecideCaller(*context);
  if (!caller.ok()) {
    return new Refused<grpc::ServerWriteReactor<v1::BackUpProgress>>(
        caller.status());
  }
  return new BackUpReactor({thread_, background_, folder_}, context,
                           *std::move(caller));
}

grpc::ServerUnaryReactor* OperationsServiceImpl::EraseParticipant(
    grpc::CallbackServerContext* context,
    const v1::EraseParticipantRequest* request, v1::Erasure* response) {
  return RunRead(context, thread_, response,
                 [request](Core& core, const v1::Actor& by) {
                   return core.EraseParticipant(*request, by);
                 });
}

}  // namespace turnstone

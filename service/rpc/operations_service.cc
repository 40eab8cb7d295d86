#include "service/rpc/operations_service.h"

#include <utility>

#include "service/rpc/back_up.h"
#include "service/rpc/refused.h"
#include "service/rpc/unary.h"

namespace turnstone {

grpc::ServerWriteReactor<v1::BackUpProgress>* OperationsServiceImpl::BackUp(
    grpc::CallbackServerContext* context,
    const v1::BackUpRequest* /*request*/) {
  absl::StatusOr<Presented> who = WhoCalls(*context);
  if (!who.ok()) {
    return new Refused<grpc::ServerWriteReactor<v1::BackUpProgress>>(
        who.status());
  }
  return new BackUpReactor({thread_, background_, folder_}, context,
                           *std::move(who));
}

grpc::ServerUnaryReactor* OperationsServiceImpl::EraseParticipant(
    grpc::CallbackServerContext* context,
    const v1::EraseParticipantRequest* request, v1::Erasure* response) {
  return RunRead(context, thread_, request, response,
                 [request](Core& core, const Caller& caller) {
                   return core.EraseParticipant(*request, caller.by);
                 });
}

}  // namespace turnstone

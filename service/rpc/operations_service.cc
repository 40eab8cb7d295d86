#include "service/rpc/operations_service.h"

#include <utility>

#include "service/rpc/back_up.h"
#include "service/rpc/refused.h"
#include "service/rpc/unary.h"

namespace turnstone {

grpc::ServerWriteReactor<v1::BackUpProgress>* OperationsServiceImpl::BackUp(
    grpc::CallbackServerContext* context,
    const v1::BackUpRequest* /*request*/) {
  absl::StatusOr<Entered> entered =
      Enter(*context, entrance_.limits, CallKind::kReadStream);
  if (!entered.ok()) {
    return new Refused<grpc::ServerWriteReactor<v1::BackUpProgress>>(
        entered.status());
  }
  return new BackUpReactor({entrance_.thread, background_, folder_}, context,
                           *std::move(entered));
}

grpc::ServerUnaryReactor* OperationsServiceImpl::EraseParticipant(
    grpc::CallbackServerContext* context,
    const v1::EraseParticipantRequest* request, v1::Erasure* response) {
  return RunRead(context, entrance_, request, response,
                 [request](Core& core, const Caller& caller) {
                   return core.EraseParticipant(*request, caller.by);
                 });
}

}  // namespace turnstone

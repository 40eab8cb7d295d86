#include "service/rpc/rule_service.h"

#include "service/rpc/read_events.h"
#include "service/rpc/refused.h"
#include "service/rpc/unary.h"

namespace turnstone {

grpc::ServerUnaryReactor* RuleServiceImpl::ListVersions(
    grpc::CallbackServerContext* context,
    const v1::ListVersionsRequest* request, v1::VersionList* response) {
  return RunRead(context, entrance_, request, response,
                 [request](Core& core, const Caller& /*caller*/) {
                   return core.ListVersions(*request);
                 });
}

grpc::ServerUnaryReactor* RuleServiceImpl::GetVersion(
    grpc::CallbackServerContext* context, const v1::GetVersionRequest* request,
    v1::VersionContent* response) {
  return RunRead(context, entrance_, request, response,
                 [request](Core& core, const Caller& /*caller*/) {
                   return core.GetVersion(*request);
                 });
}

grpc::ServerUnaryReactor* RuleServiceImpl::ListShadow(
    grpc::CallbackServerContext* context, const v1::ListShadowRequest* request,
    v1::ShadowPage* response) {
  return RunRead(context, entrance_, request, response, &Core::ListShadow);
}

grpc::ServerUnaryReactor* RuleServiceImpl::ConfirmVersion(
    grpc::CallbackServerContext* context,
    const v1::ConfirmVersionRequest* request, v1::RuleVersion* response) {
  return RunRead(context, entrance_, request, response,
                 [request](Core& core, const Caller& caller) {
                   return core.ConfirmVersion(*request, caller);
                 });
}

grpc::ServerUnaryReactor* RuleServiceImpl::ShadowVersion(
    grpc::CallbackServerContext* context,
    const v1::ShadowVersionRequest* request, v1::RuleVersion* response) {
  return RunRead(context, entrance_, request, response,
                 [request](Core& core, const Caller& caller) {
                   return core.ShadowVersion(*request, caller);
                 });
}

// Three steps: what is asked for (commit thread), the proof (background), and
// putting it in force (commit thread again).
grpc::ServerUnaryReactor* RuleServiceImpl::ActivateVersion(
    grpc::CallbackServerContext* context,
    const v1::ActivateVersionRequest* request, v1::RuleVersion* response) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<Entered> entered =
      Enter(*context, entrance_.limits, CallKind::kChange);
  if (!entered.ok()) {
    reactor->Finish(ToGrpc(entered.status()));
    return reactor;
  }
  WarnOfFreeText(*context, *request);
  const auto finish = [reactor](const absl::Status& status) {
    reactor->Finish(ToGrpc(status));
  };
  const auto put_in_force = [=](const std::string& proof, Core& core,
                                const Caller& caller) {
    absl::StatusOr<v1::RuleVersion> version =
        core.ActivateVersion(*request, proof, caller);
    const absl::Status status = version.status();
    if (version.ok()) *response = *std::move(version);
    finish(status);
  };
  const auto prove = [=, this](const v1::Configuration& configuration,
                               absl::Time now, const Caller& caller) {
    const absl::StatusOr<std::string> proof = prover_(configuration, now);
    if (!proof.ok()) return finish(proof.status());
    const bool taken = entrance_.thread.PushRead(
        [=](Core& core) { put_in_force(*proof, core, caller); });
    if (!taken) finish(QueueFull());
  };
  const bool taken = entrance_.thread.PushRead(
      [=, this, entered = *entered](Core& core) {
        if (context->IsCancelled()) return finish(GaveUp());
        const absl::StatusOr<Caller> caller =
            PassGate(core, entered.who, *request);
        if (!caller.ok()) return finish(caller.status());
        const absl::StatusOr<v1::VersionContent> content =
            core.VersionToProve(*request, *caller);
        if (!content.ok()) return finish(content.status());
        const bool taken_up = background_.Push(
            [=, pass = entered.pass, now = core.Now(), caller = *caller] {
              prove(content->configuration(), now, caller);
            });
        if (!taken_up) finish(QueueFull());
      },
      entered->source);
  if (!taken) finish(QueueFull());
  return reactor;
}

grpc::ServerWriteReactor<v1::RecordedEvent>* RuleServiceImpl::ReadEvents(
    grpc::CallbackServerContext* context,
    const v1::ReadEventsRequest* request) {
  absl::StatusOr<Entered> entered =
      Enter(*context, entrance_.limits, CallKind::kReadStream);
  if (!entered.ok()) {
    return new Refused<grpc::ServerWriteReactor<v1::RecordedEvent>>(
        entered.status());
  }
  return new ReadEventsReactor(entrance_.thread, *request, *std::move(entered));
}

}  // namespace turnstone

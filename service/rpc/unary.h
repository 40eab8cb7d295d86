// How every unary call runs: the entrance, then the commit thread and the gate,
// then the reply.
#pragma once

#include <absl/status/statusor.h>
#include <grpcpp/server_context.h>
#include <grpcpp/support/server_callback.h>

#include <functional>
#include <utility>

#include "service/rpc/access.h"
#include "service/rpc/entrance.h"
#include "service/rpc/looks_at.h"
#include "service/rpc/status.h"
#include "service/rpc/warnings.h"

namespace turnstone {

// Runs `stage` on the commit thread and replies once its effects are durable.
template <typename Request, typename Response, typename Stage>
grpc::ServerUnaryReactor* RunChange(grpc::CallbackServerContext* context,
                                    const Entrance& entrance,
                                    const Request* request, Response* response,
                                    Stage stage) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<Entered> entered =
      Enter(*context, entrance.limits, CallKind::kChange);
  if (!entered.ok()) {
    reactor->Finish(ToGrpc(entered.status()));
    return reactor;
  }
  WarnOfFreeText(*context, *request);
  const bool taken = entrance.thread.PushChange(
      [=, entered = *entered](Core& core) -> CommitThread::Answer {
        // Whoever gave up waiting has not been promised anything.
        if (context->IsCancelled()) {
          return [reactor](const absl::Status&) {
            reactor->Finish(ToGrpc(GaveUp()));
          };
        }
        const absl::StatusOr<Caller> caller =
            PassGate(core, entered.who, *request);
        absl::StatusOr<Response> staged =
            caller.ok() ? stage(core, *caller) : caller.status();
        const absl::Status result = staged.status();
        if (staged.ok()) NoteLooks(caller->by, *staged, core);
        if (staged.ok()) *response = *std::move(staged);
        return [reactor, result](const absl::Status& committed) {
          // First: a refusal may rest on what was to be committed with it.
          reactor->Finish(ToGrpc(committed.ok() ? result : committed));
        };
      },
      entered->source);
  if (!taken) reactor->Finish(ToGrpc(QueueFull()));
  return reactor;
}

// Runs `read` on the commit thread, between commits, notes who saw what, and
// replies.
template <typename Request, typename Response, typename Read>
grpc::ServerUnaryReactor* RunRead(grpc::CallbackServerContext* context,
                                  const Entrance& entrance,
                                  const Request* request, Response* response,
                                  Read read) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<Entered> entered =
      Enter(*context, entrance.limits, CallKind::kRead);
  if (!entered.ok()) {
    reactor->Finish(ToGrpc(entered.status()));
    return reactor;
  }
  WarnOfFreeText(*context, *request);
  const bool taken = entrance.thread.PushRead(
      [=, entered = *entered](Core& core) {
        if (context->IsCancelled()) {
          reactor->Finish(ToGrpc(GaveUp()));
          return;
        }
        const absl::StatusOr<Caller> caller =
            PassGate(core, entered.who, *request);
        absl::StatusOr<Response> result =
            caller.ok() ? read(core, *caller) : caller.status();
        if (result.ok()) NoteLooks(caller->by, *result, core);
        const grpc::Status status = ToGrpc(result.status());
        if (result.ok()) *response = *std::move(result);
        reactor->Finish(status);
      },
      entered->source);
  if (!taken) reactor->Finish(ToGrpc(QueueFull()));
  return reactor;
}

// The two again, for what the Core answers as it is asked.
template <typename Request, typename Response>
grpc::ServerUnaryReactor* RunChange(
    grpc::CallbackServerContext* context, const Entrance& entrance,
    const Request* request, Response* response,
    absl::StatusOr<Response> (Core::*stage)(const Request&, const v1::Actor&)) {
  return RunChange(context, entrance, request, response,
                   [request, stage](Core& core, const Caller& caller) {
                     return (core.*stage)(*request, caller.by);
                   });
}

template <typename Request, typename Response>
grpc::ServerUnaryReactor* RunRead(
    grpc::CallbackServerContext* context, const Entrance& entrance,
    const Request* request, Response* response,
    absl::StatusOr<Response> (Core::*read)(const Request&, const SiteScope&)) {
  return RunRead(context, entrance, request, response,
                 [request, read](Core& core, const Caller& caller) {
                   return (core.*read)(*request, caller.sites);
                 });
}

}  // namespace turnstone

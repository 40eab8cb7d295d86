// How every unary call runs: who calls, then the commit thread and the gate,
// then the reply.
#pragma once

#include <absl/status/statusor.h>
#include <grpcpp/server_context.h>
#include <grpcpp/support/server_callback.h>

#include <functional>
#include <utility>

#include "service/core/commit_thread.h"
#include "service/rpc/access.h"
#include "service/rpc/identity.h"
#include "service/rpc/looks_at.h"
#include "service/rpc/status.h"
#include "service/rpc/warnings.h"

namespace turnstone {

// Runs `stage` on the commit thread and replies once its effects are durable.
template <typename Request, typename Response, typename Stage>
grpc::ServerUnaryReactor* RunChange(grpc::CallbackServerContext* context,
                                    CommitThread& thread,
                                    const Request* request, Response* response,
                                    Stage stage) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<Presented> who = WhoCalls(*context);
  if (!who.ok()) {
    reactor->Finish(ToGrpc(who.status()));
    return reactor;
  }
  const bool taken =
      thread.PushChange([=, who = *who](Core& core) -> CommitThread::Answer {
        // Whoever gave up waiting has not been promised anything.
        if (context->IsCancelled()) {
          return [reactor](const absl::Status&) {
            reactor->Finish(ToGrpc(GaveUp()));
          };
        }
        const absl::StatusOr<Caller> caller = PassGate(core, who, *request);
        absl::StatusOr<Response> staged =
            caller.ok() ? stage(core, *caller) : caller.status();
        const absl::Status result = staged.status();
        if (staged.ok()) *response = *std::move(staged);
        return [reactor, result](const absl::Status& committed) {
          // First: a refusal may rest on what was to be committed with it.
          reactor->Finish(ToGrpc(committed.ok() ? result : committed));
        };
      });
  if (!taken) reactor->Finish(ToGrpc(QueueFull()));
  return reactor;
}

// Runs `read` on the commit thread, between commits, notes who saw what, and
// replies.
template <typename Request, typename Response, typename Read>
grpc::ServerUnaryReactor* RunRead(grpc::CallbackServerContext* context,
                                  CommitThread& thread, const Request* request,
                                  Response* response, Read read) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<Presented> who = WhoCalls(*context);
  if (!who.ok()) {
    reactor->Finish(ToGrpc(who.status()));
    return reactor;
  }
  const bool taken = thread.PushRead([=, who = *who](Core& core) {
    if (context->IsCancelled()) {
      reactor->Finish(ToGrpc(GaveUp()));
      return;
    }
    const absl::StatusOr<Caller> caller = PassGate(core, who, *request);
    absl::StatusOr<Response> result =
        caller.ok() ? read(core, *caller) : caller.status();
    if (result.ok()) NoteLooks(caller->by, *result, core);
    const grpc::Status status = ToGrpc(result.status());
    if (result.ok()) *response = *std::move(result);
    reactor->Finish(status);
  });
  if (!taken) reactor->Finish(ToGrpc(QueueFull()));
  return reactor;
}

// The two again, for what the Core answers as it is asked.
template <typename Request, typename Response>
grpc::ServerUnaryReactor* RunChange(
    grpc::CallbackServerContext* context, CommitThread& thread,
    const Request* request, Response* response,
    absl::StatusOr<Response> (Core::*stage)(const Request&, const v1::Actor&)) {
  WarnOfFreeText(*context, *request);
  return RunChange(context, thread, request, response,
                   [request, stage](Core& core, const Caller& caller) {
                     return (core.*stage)(*request, caller.by);
                   });
}

template <typename Request, typename Response>
grpc::ServerUnaryReactor* RunRead(
    grpc::CallbackServerContext* context, CommitThread& thread,
    const Request* request, Response* response,
    absl::StatusOr<Response> (Core::*read)(const Request&, const SiteScope&)) {
  return RunRead(context, thread, request, response,
                 [request, read](Core& core, const Caller& caller) {
                   return (core.*read)(*request, caller.sites);
                 });
}

}  // namespace turnstone

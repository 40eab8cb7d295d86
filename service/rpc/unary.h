// How every unary call runs: identity, then the commit thread, then the reply.
#pragma once

#include <absl/status/statusor.h>
#include <grpcpp/server_context.h>
#include <grpcpp/support/server_callback.h>

#include <functional>
#include <utility>

#include "service/core/commit_thread.h"
#include "service/rpc/identity.h"
#include "service/rpc/status.h"

namespace turnstone {

// Runs `stage` on the commit thread and replies once its effects are durable.
template <typename Response, typename Stage>
grpc::ServerUnaryReactor* RunChange(grpc::CallbackServerContext* context,
                                    CommitThread& thread, Response* response,
                                    Stage stage) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<v1::Actor> caller = DecideCaller(*context);
  if (!caller.ok()) {
    reactor->Finish(ToGrpc(caller.status()));
    return reactor;
  }
  const bool taken =
      thread.PushChange([=, by = *caller](Core& core) -> CommitThread::Answer {
        // Whoever gave up waiting has not been promised anything.
        if (context->IsCancelled()) {
          return [reactor](const absl::Status&) {
            reactor->Finish(ToGrpc(GaveUp()));
          };
        }
        absl::StatusOr<Response> staged = stage(core, by);
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

// Runs `read` on the commit thread, between commits, and replies.
template <typename Response, typename Read>
grpc::ServerUnaryReactor* RunRead(grpc::CallbackServerContext* context,
                                  CommitThread& thread, Response* response,
                                  Read read) {
  grpc::ServerUnaryReactor* reactor = context->DefaultReactor();
  const absl::StatusOr<v1::Actor> caller = DecideCaller(*context);
  if (!caller.ok()) {
    reactor->Finish(ToGrpc(caller.status()));
    return reactor;
  }
  const bool taken = thread.PushRead([=, by = *caller](Core& core) {
    if (context->IsCancelled()) {
      reactor->Finish(ToGrpc(GaveUp()));
      return;
    }
    absl::StatusOr<Response> result = read(core, by);
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
  return RunChange(context, thread, response,
                   [request, stage](Core& core, const v1::Actor& by) {
                     return (core.*stage)(*request, by);
                   });
}

template <typename Request, typename Response>
grpc::ServerUnaryReactor* RunRead(
    grpc::CallbackServerContext* context, CommitThread& thread,
    const Request* request, Response* response,
    absl::StatusOr<Response> (Core::*read)(const Request&)) {
  return RunRead(context, thread, response,
                 [request, read](Core& core, const v1::Actor& /*by*/) {
                   return (core.*read)(*request);
                 });
}

}  // namespace turnstone

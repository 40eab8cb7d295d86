#include "tests/bench/echo.h"

#include <grpcpp/server.h>
#include <grpcpp/server_builder.h>
#include <grpcpp/support/server_callback.h>

#include <atomic>
#include <deque>
#include <mutex>
#include <string>

#include "platform/log.h"
#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone {
namespace {

std::atomic<int64_t> answered{0};

void Fill(const v1::Event& event, v1::SubmitResponse& response) {
  *response.mutable_recorded_time() = event.effective_time();
  response.set_sequence(++answered);
}

// Reads on while answers are being written. Deletes itself.
class EchoStream final
    : public grpc::ServerBidiReactor<v1::SubmitRequest,
                                     v1::SubmitStreamResponse> {
 public:
  EchoStream() { StartRead(&request_); }

  void OnReadDone(bool ok) override {
    std::unique_lock<std::mutex> lock(mutex_);
    if (!ok) {
      over_ = true;
      FinishIfOver();
      return;
    }
    v1::SubmitStreamResponse& reply = replies_.emplace_back();
    reply.set_source(request_.event().source());
    reply.set_event_id(request_.event().event_id());
    Fill(request_.event(), *reply.mutable_accepted());
    if (replies_.size() == 1) StartWrite(&replies_.front());
    lock.unlock();
    StartRead(&request_);
  }

  void OnWriteDone(bool /*ok*/) override {
    const std::lock_guard<std::mutex> lock(mutex_);
    replies_.pop_front();
    if (!replies_.empty()) return StartWrite(&replies_.front());
    FinishIfOver();
  }

  void OnDone() override { delete this; }

 private:
  void FinishIfOver() {
    if (over_ && replies_.empty()) Finish(grpc::Status::OK);
  }

  std::mutex mutex_;
  v1::SubmitRequest request_;
  std::deque<v1::SubmitStreamResponse> replies_;
  bool over_ = false;
};

class EchoService final : public v1::EventService::CallbackService {
 public:
  grpc::ServerUnaryReactor* Submit(grpc::CallbackServerContext* context,
                                   const v1::SubmitRequest* request,
                                   v1::SubmitResponse* response) override {
    Fill(request->event(), *response);
    auto* reactor = context->DefaultReactor();
    reactor->Finish(grpc::Status::OK);
    return reactor;
  }
  grpc::ServerBidiReactor<v1::SubmitRequest, v1::SubmitStreamResponse>*
  SubmitStream(grpc::CallbackServerContext* /*context*/) override {
    return new EchoStream;
  }
};

}  // namespace

int ServeEcho() {
  EchoService service;
  int port = 0;
  grpc::ServerBuilder builder;
  builder.AddListeningPort("127.0.0.1:0", grpc::InsecureServerCredentials(),
                           &port);
  builder.AddChannelArgument(GRPC_ARG_ALLOW_REUSEPORT, 0);
  builder.RegisterService(&service);
  const auto server = builder.BuildAndStart();
  if (server == nullptr || port == 0) return 1;
  Log(LogLevel::kInfo, "serving", {{"port", std::to_string(port)}});
  server->Wait();
  return 0;
}

}  // namespace turnstone

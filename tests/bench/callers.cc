#include "tests/bench/callers.h"

#include <absl/strings/str_cat.h>
#include <grpcpp/client_context.h>
#include <grpcpp/support/client_callback.h>

#include <algorithm>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>

#include "tests/bench/follower.h"
#include "tests/bench/run.h"

namespace turnstone {
namespace {

constexpr int kOnTheirWay = 256;
constexpr int kOfOneStreamMax = 128;

class UnaryCaller {
 public:
  UnaryCaller(v1::EventService::Stub& stub, Run& run, int number)
      : stub_(stub), run_(run), number_(number) {}

  void Next() {
    const std::optional<size_t> which = run_.Take();
    if (!which) return run_.CallerDone();
    context_.emplace();
    Introduce(*context_, number_);
    stub_.async()->Submit(&*context_, &run_.Request(*which), &response_,
                          [this, which = *which](const grpc::Status& status) {
                            run_.Answered(which, status.ok(),
                                          response_.sequence());
                            Next();
                          });
  }

 private:
  v1::EventService::Stub& stub_;
  Run& run_;
  const int number_;
  std::optional<grpc::ClientContext> context_;
  v1::SubmitResponse response_;
};

class StreamCaller final
    : public grpc::ClientBidiReactor<v1::SubmitRequest,
                                     v1::SubmitStreamResponse> {
 public:
  StreamCaller(v1::EventService::Stub& stub, Run& run, int number,
               size_t window)
      : run_(run), window_(window) {
    Introduce(context_, number);
    stub.async()->SubmitStream(&context_, this);
    AddHold();
    StartCall();
    StartRead(&response_);
    const std::lock_guard<std::mutex> lock(mutex_);
    WriteMore();
  }

  void OnWriteDone(bool /*ok*/) override {
    const std::lock_guard<std::mutex> lock(mutex_);
    writing_ = false;
    WriteMore();
  }

  void OnReadDone(bool ok) override {
    if (!ok) return;
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      run_.Answered(unanswered_.front(), response_.has_accepted(),
                    response_.accepted().sequence());
      unanswered_.pop_front();
      WriteMore();
    }
    StartRead(&response_);
  }

  void OnDone(const grpc::Status& /*status*/) override { run_.CallerDone(); }

 private:
  // Needs mutex_.
  void WriteMore() {
    if (writing_ || over_ || unanswered_.size() >= window_) return;
    const std::optional<size_t> next = run_.Take();
    if (!next) {
      over_ = true;
      StartWritesDone();
      return RemoveHold();
    }
    unanswered_.push_back(*next);
    writing_ = true;
    StartWrite(&run_.Request(*next));
  }

  Run& run_;
  const size_t window_;
  grpc::ClientContext context_;
  v1::SubmitStreamResponse response_;
  std::mutex mutex_;
  std::deque<size_t> unanswered_;
  bool writing_ = false;
  bool over_ = false;
};

}  // namespace

void Introduce(grpc::ClientContext& context, int caller) {
  context.AddMetadata("turnstone-name", absl::StrCat("r.sorrel-", caller));
  context.AddMetadata("turnstone-role", "clinician");
}

Measured PostUnary(const std::shared_ptr<grpc::Channel>& channel,
                   const Requests& requests, int callers, bool follow) {
  const auto stub = v1::EventService::NewStub(channel);
  std::optional<Follower> follower;
  Run run(requests, callers);
  if (follow) follower.emplace(channel, requests, run);
  std::deque<UnaryCaller> all;
  for (int i = 0; i < callers; ++i) all.emplace_back(*stub, run, i);
  for (UnaryCaller& caller : all) caller.Next();
  Measured measured = run.Finish();
  if (follower) measured.follower_micros = follower->Stop();
  return measured;
}

Measured PostStreams(const std::shared_ptr<grpc::Channel>& channel,
                     const Requests& requests, int callers) {
  const auto stub = v1::EventService::NewStub(channel);
  const auto window = static_cast<size_t>(
      std::clamp(kOnTheirWay / callers, 1, kOfOneStreamMax));
  Run run(requests, callers);
  std::deque<StreamCaller> all;
  for (int i = 0; i < callers; ++i) all.emplace_back(*stub, run, i, window);
  return run.Finish();
}

}  // namespace turnstone

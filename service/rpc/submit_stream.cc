#include "service/rpc/submit_stream.h"

#include <memory>
#include <utility>

#include "service/rpc/access.h"
#include "service/rpc/status.h"

namespace turnstone {
namespace {

v1::SubmitStreamResponse ReplyTo(
    const v1::Event& event, const absl::StatusOr<v1::SubmitResponse>& result) {
  v1::SubmitStreamResponse reply;
  reply.set_source(event.source());
  reply.set_event_id(event.event_id());
  if (result.ok()) {
    *reply.mutable_accepted() = *result;
  } else {
    reply.mutable_refused()->set_code(static_cast<int>(result.status().code()));
    reply.mutable_refused()->set_message(
        std::string(result.status().message()));
  }
  return reply;
}

}  // namespace

SubmitStreamReactor::SubmitStreamReactor(CommitThread& thread, Entered entered)
    : thread_(thread), entered_(std::move(entered)) {
  const std::lock_guard<std::mutex> lock(mutex_);
  ReadMore();
}

void SubmitStreamReactor::OnReadDone(bool ok) {
  v1::SubmitRequest request;
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (!ok) {
      reading_ = false;
      no_more_requests_ = true;
      FinishIfOver();
      return;
    }
    ++unanswered_;
    request = std::move(request_);
    request_.Clear();
  }
  Enqueue(std::move(request));
  // Only now: a write that ends meanwhile must not start the next read, which
  // could overtake this request on the way to the queue.
  const std::lock_guard<std::mutex> lock(mutex_);
  reading_ = false;
  ReadMore();
}

void SubmitStreamReactor::Enqueue(v1::SubmitRequest taken_over) {
  const auto request =
      std::make_shared<const v1::SubmitRequest>(std::move(taken_over));
  const bool taken = thread_.PushChange(
      [this, request](Core& core) -> CommitThread::Answer {
        const absl::StatusOr<Caller> caller =
            PassGate(core, entered_.who, *request);
        auto staged = caller.ok()
                          ? core.StageSubmit(request->event(), caller->by)
                          : caller.status();
        return [this, request, staged](const absl::Status& committed) {
          // First: a refusal may rest on what was to be committed with it.
          Reply(ReplyTo(request->event(),
                        committed.ok()
                            ? staged
                            : absl::StatusOr<v1::SubmitResponse>(committed)));
        };
      },
      entered_.source);
  if (!taken) Reply(ReplyTo(request->event(), QueueFull()));
}

void SubmitStreamReactor::Reply(v1::SubmitStreamResponse response) {
  const std::lock_guard<std::mutex> lock(mutex_);
  replies_.push_back(std::move(response));
  WriteNext();
}

void SubmitStreamReactor::WriteNext() {
  if (broken_pipe_) {
    unanswered_ -= static_cast<int>(replies_.size());
    replies_.clear();
    FinishIfOver();
    return;
  }
  if (writing_ || replies_.empty()) return;
  writing_ = true;
  StartWrite(&replies_.front());
}

void SubmitStreamReactor::OnWriteDone(bool ok) {
  const std::lock_guard<std::mutex> lock(mutex_);
  writing_ = false;
  replies_.pop_front();
  --unanswered_;
  if (!ok) broken_pipe_ = true;
  WriteNext();
  ReadMore();
  FinishIfOver();
}

void SubmitStreamReactor::ReadMore() {
  if (reading_ || no_more_requests_ || unanswered_ >= kWindow) return;
  reading_ = true;
  StartRead(&request_);
}

// Only when nothing is on its way: the commit thread holds this object until
// it has answered.
void SubmitStreamReactor::FinishIfOver() {
  if (finished_ || !no_more_requests_ || unanswered_ > 0 || writing_) return;
  finished_ = true;
  Finish(grpc::Status::OK);
}

void SubmitStreamReactor::OnDone() { delete this; }

}  // namespace turnstone

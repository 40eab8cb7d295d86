// One SubmitStream call.
#pragma once

#include <grpcpp/support/server_callback.h>

#include <deque>
#include <mutex>

#include "service/rpc/entrance.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// Reads ahead, up to a window, so that the events of one stream share commits;
// answers in order. Deletes itself when the call is over.
class SubmitStreamReactor final
    : public grpc::ServerBidiReactor<v1::SubmitRequest,
                                     v1::SubmitStreamResponse> {
 public:
  SubmitStreamReactor(CommitThread& thread, Entered entered);

  void OnReadDone(bool ok) override;
  void OnWriteDone(bool ok) override;
  void OnDone() override;

 private:
  // Requests read and not answered on the wire.
  static constexpr int kWindow = 128;

  void Enqueue(v1::SubmitRequest request);
  void Reply(v1::SubmitStreamResponse response);
  // The next three need mutex_.
  void WriteNext();
  void ReadMore();
  void FinishIfOver();

  CommitThread& thread_;
  const Entered entered_;
  v1::SubmitRequest request_;

  std::mutex mutex_;
  std::deque<v1::SubmitStreamResponse> replies_;  // front is being written
  int unanswered_ = 0;
  bool reading_ = false;
  bool writing_ = false;
  bool no_more_requests_ = false;
  bool broken_pipe_ = false;
  bool finished_ = false;
};

}  // namespace turnstone

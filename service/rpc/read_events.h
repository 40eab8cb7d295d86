// One ReadEvents call.
#pragma once

#include <absl/time/time.h>
#include <grpcpp/support/server_callback.h>

#include <vector>

#include "service/rpc/entrance.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// Reads a page of the record, sends it event by event, and reads on: bounded
// memory, and never longer on the commit thread than a page takes. Deletes
// itself when the call is over.
class ReadEventsReactor final
    : public grpc::ServerWriteReactor<v1::RecordedEvent> {
 public:
  ReadEventsReactor(CommitThread& thread, const v1::ReadEventsRequest& request,
                    Entered entered);
  void OnWriteDone(bool ok) override;
  void OnDone() override { delete this; }

 private:
  static constexpr int kPage = 500;

  void Fetch();
  void TakePage(absl::StatusOr<Core::EventPage> page);
  // The next event of the page, the next page, or the end.
  void GoOn();

  CommitThread& thread_;
  const v1::ReadEventsRequest request_;
  const Entered entered_;
  absl::Time until_;
  std::vector<StoredEvent> page_;
  size_t next_ = 0;
  int64_t sequence_ = 0;
  int64_t total_ = 0;
  v1::RecordedEvent sending_;
};

}  // namespace turnstone

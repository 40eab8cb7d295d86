#include "service/rpc/read_events.h"

#include <utility>

#include "rules/measure/proto_time.h"
#include "service/rpc/access.h"
#include "service/rpc/looks_at.h"
#include "service/rpc/status.h"

namespace turnstone {

ReadEventsReactor::ReadEventsReactor(CommitThread& thread,
                                     const v1::ReadEventsRequest& request,
                                     Entered entered)
    : thread_(thread),
      request_(request),
      entered_(std::move(entered)),
      until_(request.has_to() ? FromProto(request.to())
                              : absl::InfiniteFuture()) {
  Fetch();
}

void ReadEventsReactor::Fetch() {
  const bool taken = thread_.PushRead(
      [this](Core& core) {
        const absl::StatusOr<Caller> caller =
            PassGate(core, entered_.who, request_);
        if (!caller.ok()) return TakePage(caller.status());
        absl::StatusOr<Core::EventPage> page =
            core.EventsAfter(request_.site(), sequence_, kPage, caller->by);
        if (page.ok()) NoteLooks(caller->by, *page, core);
        TakePage(std::move(page));
      },
      entered_.source);
  if (!taken) Finish(ToGrpc(QueueFull()));
}

void ReadEventsReactor::TakePage(absl::StatusOr<Core::EventPage> page) {
  if (!page.ok()) return Finish(ToGrpc(page.status()));
  if (page->events.empty()) return Finish(grpc::Status::OK);
  // Only the first event says how many there are.
  total_ = sequence_ == 0 ? page->total : 0;
  page_ = std::move(page->events);
  next_ = 0;
  GoOn();
}

void ReadEventsReactor::GoOn() {
  if (next_ == page_.size()) return Fetch();
  StoredEvent& stored = page_[next_++];
  if (stored.recorded >= until_) return Finish(grpc::Status::OK);
  sequence_ = stored.sequence;
  *sending_.mutable_recorded_time() = ToProto(stored.recorded);
  *sending_.mutable_event() = std::move(stored.event);
  sending_.set_total(std::exchange(total_, 0));
  StartWrite(&sending_);
}

void ReadEventsReactor::OnWriteDone(bool ok) {
  if (!ok) return Finish(ToGrpc(absl::CancelledError("the caller has left")));
  GoOn();
}

}  // namespace turnstone

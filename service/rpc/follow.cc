#include "service/rpc/follow.h"

#include <utility>

#include "service/rpc/access.h"
#include "service/rpc/looks_at.h"
#include "service/rpc/status.h"

namespace turnstone {
namespace {

absl::Status Stopping() {
  return absl::UnavailableError(
      "the service is stopping; follow again from the last position");
}

}  // namespace

FollowReactor::FollowReactor(grpc::CallbackServerContext& context,
                             const Entrance& entrance, ChangeHub& hub,
                             const v1::FollowAlertsRequest& request,
                             Entered entered)
    : context_(context),
      entrance_(entrance),
      hub_(hub),
      request_(request),
      entered_(std::move(entered)) {
  if (request.has_after_position()) position_ = request.after_position();
  subscription_ = hub_.Subscribe([this] { Poke(); });
  Poke();
}

void FollowReactor::Poke() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (!busy_) return Fetch();
    again_ = true;
    if (!IsTooSlow()) return;
  }
  // Whoever takes nothing cannot be told why, either.
  context_.TryCancel();
}

void FollowReactor::Fetch() {
  if (finished_) return;
  if (cancelled_) return End(absl::CancelledError("the caller has left"));
  if (hub_.closed()) return End(Stopping());
  busy_ = true;
  again_ = false;
  const std::optional<int64_t> from = position_;
  const bool taken = entrance_.thread.PushFollow(
      [this, from](Core& core) {
        if (!from) {
          const std::lock_guard<std::mutex> lock(mutex_);
          position_ = core.position();
        }
        // Each time: whoever may no longer see them gets no more.
        const absl::StatusOr<Caller> caller =
            PassGate(core, entered_.who, request_);
        if (!caller.ok()) return TakeBatch(caller.status());
        absl::StatusOr<std::vector<v1::Alert>> batch =
            core.AlertsAfter(request_.site(), from.value_or(core.position()),
                             kBatch, caller->sites);
        if (batch.ok()) NoteLooks(caller->by, *batch, core);
        TakeBatch(std::move(batch));
      },
      entered_.source);
  if (!taken) End(Stopping());
}

void FollowReactor::TakeBatch(absl::StatusOr<std::vector<v1::Alert>> batch) {
  const std::lock_guard<std::mutex> lock(mutex_);
  if (!batch.ok()) return End(batch.status());
  // The caller learns that it is being served once its position is fixed:
  // whatever happens from then on it will see.
  if (!greeted_) StartSendInitialMetadata();
  greeted_ = true;
  batch_ = *std::move(batch);
  next_ = 0;
  WriteOrFetch();
}

bool FollowReactor::IsTooSlow() const {
  return writing_since_ &&
         entrance_.limits.Elapsed() - *writing_since_ > kPatience;
}

void FollowReactor::WriteOrFetch() {
  busy_ = false;
  if (cancelled_) return Fetch();
  if (next_ < batch_.size()) {
    busy_ = true;
    writing_since_ = entrance_.limits.Elapsed();
    StartWrite(&batch_[next_]);
  } else if (!batch_.empty() || again_) {
    batch_.clear();
    Fetch();
  }
}

void FollowReactor::OnWriteDone(bool ok) {
  const std::lock_guard<std::mutex> lock(mutex_);
  writing_since_.reset();
  position_ = batch_[next_].position();
  ++next_;
  if (!ok) cancelled_ = true;
  WriteOrFetch();
}

void FollowReactor::OnCancel() {
  const std::lock_guard<std::mutex> lock(mutex_);
  cancelled_ = true;
  if (!busy_) Fetch();
}

void FollowReactor::End(const absl::Status& status) {
  if (finished_) return;
  finished_ = true;
  busy_ = false;
  Finish(ToGrpc(status));
}

void FollowReactor::OnDone() {
  hub_.Unsubscribe(subscription_);
  delete this;
}

}  // namespace turnstone

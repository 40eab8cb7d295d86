// What Core tells of messages and channels.
#include <algorithm>
#include <utility>

#include "rules/measure/proto_time.h"
#include "service/core/core.h"

namespace turnstone {

absl::StatusOr<absl::Time> Core::NextSending() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::StatusOr<std::vector<OwedByChannel>> owed = store_->Owed();
  if (!owed.ok()) return Break(owed.status());
  absl::Time next = absl::InfiniteFuture();
  for (const OwedByChannel& one : *owed) {
    next = std::min(
        next, std::max(one.next_attempt, health_[one.channel].rests_until()));
  }
  return next;
}

absl::StatusOr<v1::Outbox> Core::ListOutbox(
    const v1::ListOutboxRequest& request, const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const int page_size = request.has_page_size() ? request.page_size() : 100;
  if (page_size < 1 || page_size > 500) {
    return absl::InvalidArgumentError("pageSize: must be 1 to 500");
  }
  if (!request.site().empty()) {
    absl::StatusOr<std::string> known = SiteOrOnly(request.site());
    if (!known.ok()) return known.status();
  }
  if (!request.alert_id().empty()) {
    absl::StatusOr<Resolved> known = ResolveAlert(request.alert_id(), scope);
    if (!known.ok()) return known.status();
  }
  absl::StatusOr<MessagePage> page =
      store_->ListMessages(request, page_size, scope);
  if (!page.ok()) return Break(page.status());
  const absl::StatusOr<std::vector<OwedByChannel>> owed = store_->Owed();
  if (!owed.ok()) return Break(owed.status());
  v1::Outbox outbox;
  *outbox.mutable_now() = ToProto(Now());
  outbox.set_total(page->total);
  for (v1::OwedMessage& message : page->messages) {
    *outbox.add_message() = std::move(message);
  }
  for (const ChannelKey& channel : Channels()) {
    if (!request.site().empty() && channel.site != request.site()) continue;
    if (!scope.Covers(channel.site)) continue;
    const ChannelHealth& health = health_[channel];
    v1::ChannelState& state = *outbox.add_channel();
    state.set_site(channel.site);
    state.set_channel(channel.channel);
    state.set_time_zone(setup_->FindSite(channel.site)->config.time_zone());
    state.set_failures_in_a_row(health.failures_in_a_row());
    state.set_last_error(health.last_error());
    if (health.Rests(Now())) {
      *state.mutable_rests_until() = ToProto(health.rests_until());
    }
    for (const OwedByChannel& one : *owed) {
      if (one.channel != channel) continue;
      state.set_owed(static_cast<int>(one.messages));
      *state.mutable_oldest_owed_since() = ToProto(one.oldest_since);
    }
  }
  return outbox;
}

}  // namespace turnstone

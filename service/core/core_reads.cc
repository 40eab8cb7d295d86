// What Core tells of what is durable.
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "service/core/core.h"
#include "service/core/participant_view.h"

namespace turnstone {

absl::StatusOr<std::string> Core::SiteOrOnly(const std::string& site) const {
  const auto& sites = setup_->sites();
  if (site.empty() && sites.size() == 1) return sites.begin()->first;
  if (setup_->FindSite(site) != nullptr) return site;
  if (site.empty()) {
    return absl::InvalidArgumentError(
        "site: missing; this service has more than one, say which");
  }
  return absl::NotFoundError(
      absl::StrCat("site: \"", site, "\" is not configured here"));
}

absl::StatusOr<v1::ListAlertsResponse> Core::ListAlerts(
    const v1::ListAlertsRequest& request, const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const int page_size = request.has_page_size() ? request.page_size() : 100;
  if (page_size < 1 || page_size > 500) {
    return absl::InvalidArgumentError("pageSize: must be 1 to 500");
  }
  v1::ListAlertsRequest filter = request;
  if (!request.site().empty() || !request.participant().empty()) {
    absl::StatusOr<std::string> site = SiteOrOnly(request.site());
    if (!site.ok()) return site.status();
    filter.set_site(*site);
  }
  absl::StatusOr<AlertPage> page = store_->ListAlerts(filter, page_size, scope);
  if (!page.ok()) return page.status();
  v1::ListAlertsResponse response;
  for (v1::Alert& alert : page->alerts) {
    *response.add_alert() = std::move(alert);
  }
  response.set_next_page_token(page->next_page_token);
  response.set_total(page->total);
  *response.mutable_now() = ToProto(Now());
  return response;
}

absl::StatusOr<v1::Alert> Core::GetAlert(const std::string& alert_id,
                                         const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<Resolved> found = ResolveAlert(alert_id, scope);
  if (!found.ok()) return found.status();
  return *found->second;
}

absl::StatusOr<std::vector<v1::Alert>> Core::AlertsAfter(
    const std::string& site, int64_t position, int limit,
    const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  // A follower with a mistyped site would otherwise wait in silence for ever.
  if (!site.empty()) {
    absl::StatusOr<std::string> known = SiteOrOnly(site);
    if (!known.ok()) return known.status();
  }
  return store_->AlertsAfterPosition(site, position, limit, scope);
}

absl::StatusOr<std::vector<StoredEvent>> Core::KnownOf(
    const ParticipantKey& key, const SiteScope& scope) {
  // Nobody has the empty id, which rows of erased participants have.
  absl::StatusOr<std::vector<StoredEvent>> events =
      key.participant.empty() ? std::vector<StoredEvent>()
                              : store_->EventsOf(key, scope);
  if (!events.ok()) return Break(events.status());
  if (!events->empty()) return events;
  return absl::NotFoundError(absl::StrCat("participant: nothing is known of \"",
                                          key.participant, "\" at ", key.site,
                                          "; check the id"));
}

absl::StatusOr<v1::ParticipantView> Core::GetParticipant(
    const v1::GetParticipantRequest& request, const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::string> site = SiteOrOnly(request.site());
  if (!site.ok()) return site.status();
  const ParticipantKey key{*site, request.participant()};
  const absl::StatusOr<std::vector<StoredEvent>> events = KnownOf(key, scope);
  if (!events.ok()) return events.status();
  absl::StatusOr<Participant*> participant = participants_->Get(key);
  if (!participant.ok()) return Break(participant.status());
  return ViewOf(**participant, *events, Now());
}

absl::StatusOr<absl::Time> Core::NextDue() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<absl::Time> next = store_->NextDue();
  if (!next.ok()) return next;
  return std::min({*next, retention_at_, sign_of_life_at_});
}

}  // namespace turnstone

#include "clients/cli/fetch.h"

#include <algorithm>
#include <map>
#include <string>

#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

// Later pages hold later states.
void Merge(const v1::ListAlertsResponse& page,
           std::map<std::string, size_t>& places,
           std::vector<v1::Alert>& alerts) {
  for (const v1::Alert& alert : page.alert()) {
    const auto [place, fresh] = places.emplace(alert.alert_id(), alerts.size());
    if (fresh) {
      alerts.push_back(alert);
    } else {
      alerts[place->second] = alert;
    }
  }
}

int64_t LatestPosition(const v1::ListAlertsResponse& page) {
  int64_t latest = 0;
  for (const v1::Alert& alert : page.alert()) {
    latest = std::max(latest, alert.position());
  }
  return latest;
}

}  // namespace

void AskForOpen(v1::ListAlertsRequest& request) {
  for (const auto status :
       {v1::ALERT_STATUS_REQUESTED, v1::ALERT_STATUS_RECEIVED,
        v1::ALERT_STATUS_IN_PROGRESS, v1::ALERT_STATUS_ON_HOLD}) {
    request.add_status(status);
  }
}

absl::StatusOr<AlertList> FetchAlerts(const Connection& connection,
                                      v1::ListAlertsRequest request) {
  AlertList list;
  std::map<std::string, size_t> places;
  while (true) {
    const auto page = connection.Call(
        *connection.alerts, &v1::AlertService::Stub::ListAlerts, request);
    if (!page.ok()) return page.status();
    // What changed after the first page was read has a later position, even
    // if it stood on that page and later pages hold later positions still.
    if (request.page_token().empty()) list.position = LatestPosition(*page);
    Merge(*page, places, list.alerts);
    list.now = FromProto(page->now());
    if (page->next_page_token().empty()) {
      list.changed_meanwhile =
          page->total() != static_cast<int64_t>(list.alerts.size());
      return list;
    }
    if (page->next_page_token() == request.page_token()) {
      return absl::UnknownError("the service sends the same page again");
    }
    request.set_page_token(page->next_page_token());
  }
}

absl::StatusOr<absl::Time> ServiceTime(const Connection& connection) {
  const auto clock =
      connection.Call(*connection.clock, &v1::ClockService::Stub::GetClock,
                      v1::GetClockRequest());
  if (!clock.ok()) return clock.status();
  return FromProto(clock->now());
}

}  // namespace turnstone::cli

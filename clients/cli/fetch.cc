#include "clients/cli/fetch.h"

#include <map>
#include <string>

#include "clients/cli/render/time.h"

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

}  // namespace

absl::StatusOr<AlertList> FetchAlerts(const Connection& connection,
                                      v1::ListAlertsRequest request) {
  AlertList list;
  std::map<std::string, size_t> places;
  while (true) {
    const auto page = connection.Call(
        *connection.alerts, &v1::AlertService::Stub::ListAlerts, request);
    if (!page.ok()) return page.status();
    Merge(*page, places, list.alerts);
    list.now = ToTime(page->now());
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

}  // namespace turnstone::cli

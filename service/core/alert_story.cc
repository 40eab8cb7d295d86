#include "service/core/alert_story.h"

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"

namespace turnstone {

const v1::AlertChange* FirstInHand(const v1::Alert& alert) {
  for (const v1::AlertChange& change : alert.history()) {
    if (change.status() == v1::ALERT_STATUS_ENTERED_IN_ERROR) return nullptr;
    if (change.status() != v1::ALERT_STATUS_REQUESTED) return &change;
  }
  return nullptr;
}

std::optional<absl::Time> EndedAt(const v1::Alert& alert) {
  if (IsOpen(alert)) return std::nullopt;
  if (alert.has_closing()) return FromProto(alert.closing().at());
  for (const v1::AlertChange& change : alert.history()) {
    if (change.status() == alert.status()) return FromProto(change.at());
  }
  return std::nullopt;
}

int RepeatsOf(const v1::Alert& alert) {
  if (alert.occurrence().empty()) return 0;
  return static_cast<int>(
      std::count_if(alert.occurrence().begin() + 1, alert.occurrence().end(),
                    [&](const v1::Occurrence& occurrence) {
                      return FromProto(occurrence.raised_at()) >=
                             FromProto(alert.raised_at());
                    }));
}

}  // namespace turnstone

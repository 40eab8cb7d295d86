#include "clients/cli/caseload.h"

#include <absl/strings/str_cat.h>
#include <google/protobuf/util/message_differencer.h>

#include "rules/check/event_check.h"
#include "rules/check/field_error.h"
#include "rules/engine/series.h"

namespace turnstone::cli {
namespace {

using google::protobuf::util::MessageDifferencer;

}  // namespace

absl::Status Caseload::Take(const v1::Event& event) {
  // Nothing is known here of the clock that the times were taken from.
  absl::Status status =
      CheckEventContent(event, catalogue_, absl::InfiniteFuture());
  if (!status.ok()) return status;
  const EventKey key{event.source(), event.event_id()};
  if (const auto before = taken_.find(key); before != taken_.end()) {
    if (MessageDifferencer::Equals(before->second, event)) return status;
    return FieldError("eventId", "is that of another event of this source",
                      "an id of its own; a mistake is mended by a correction");
  }
  History& history = histories_[{event.site(), event.participant()}];
  status = history.Apply(event, catalogue_).status();
  if (status.ok()) taken_.emplace(key, event);
  return status;
}

std::vector<v1::MeasuredParticipant> Caseload::Measure(
    absl::TimeZone zone) const {
  std::vector<v1::MeasuredParticipant> all;
  for (const auto& [who, history] : histories_) {
    std::vector<v1::ScoreSeries> series = MeasureSeries(history, zone);
    if (series.empty()) continue;
    v1::MeasuredParticipant& participant = all.emplace_back();
    participant.set_site(who.first);
    participant.set_participant(who.second);
    participant.mutable_series()->Assign(series.begin(), series.end());
  }
  return all;
}

}  // namespace turnstone::cli

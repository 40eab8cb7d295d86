#include "service/core/participant_view.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

#include "rules/engine/series.h"
#include "rules/engine/view.h"
#include "rules/engine/wording.h"
#include "rules/measure/proto_time.h"
#include "service/core/due.h"

namespace turnstone {
namespace {

constexpr int kAlertsMax = 50;

// Facts in the order in which they happened; a withdrawn event stays visible,
// marked as such.
void FillTimeline(const History& history,
                  const std::vector<StoredEvent>& events,
                  v1::ParticipantView& view) {
  for (const StoredEvent& stored : events) {
    v1::TimelineEntry& entry = *view.add_timeline();
    entry.set_source(stored.event.source());
    entry.set_event_id(stored.event.event_id());
    *entry.mutable_recorded_time() = ToProto(stored.recorded);
    *entry.mutable_effective_time() = stored.event.effective_time();
    if (stored.event.has_correction()) {
      entry.set_text(absl::StrCat(
          stored.event.correction().withdrawn() ? "withdrew " : "corrected ",
          stored.event.correction().corrected_event_id(), ": ",
          stored.event.correction().reason()));
      continue;
    }
    const auto at =
        history.Find({stored.event.source(), stored.event.event_id()});
    if (!at) {
      entry.set_text("withdrawn by a correction");
      entry.set_withdrawn(true);
      continue;
    }
    const Fact& fact = history.facts()[*at];
    *entry.mutable_effective_time() = ToProto(fact.effective);
    entry.set_corrected_by(fact.corrected_by);
    entry.set_text(FactInWords(fact));
  }
  std::stable_sort(
      view.mutable_timeline()->begin(), view.mutable_timeline()->end(),
      [](const v1::TimelineEntry& a, const v1::TimelineEntry& b) {
        return FromProto(a.effective_time()) < FromProto(b.effective_time());
      });
}

void FillAlerts(Participant& participant, v1::ParticipantView& view) {
  std::vector<const v1::Alert*> alerts;
  for (const auto& [number, alert] : participant.alerts()) {
    alerts.push_back(&alert);
  }
  std::reverse(alerts.begin(), alerts.end());
  std::stable_partition(alerts.begin(), alerts.end(),
                        [](const v1::Alert* alert) { return IsOpen(*alert); });
  for (const v1::Alert* alert : alerts) {
    if (view.alert_size() < kAlertsMax) *view.add_alert() = *alert;
  }
}

}  // namespace

v1::ParticipantView ViewOf(Participant& participant,
                           const std::vector<StoredEvent>& events,
                           absl::Time now) {
  v1::ParticipantView view;
  const Site& site = participant.site();
  view.set_site(participant.key().site);
  view.set_participant(participant.key().participant);
  view.set_time_zone(site.config.time_zone());
  *view.mutable_now() = ToProto(now);
  view.set_caution(CautionFor(site));
  const History& history = participant.history();
  view.set_visits_planned(site.config.planned_visits());
  if (!history.facts().empty()) {
    const View whole(site, history, history.facts().size() - 1, now);
    view.set_enrolled(whole.Enrolled());
    view.set_visits_attended(whole.AttendedVisits(now));
    view.set_visits_planned(whole.PlannedVisits());
  }
  FillTimeline(history, events, view);
  for (v1::ScoreSeries& series : MeasureSeries(history, site.calendar.zone())) {
    *view.add_series() = std::move(series);
  }
  for (v1::DueEntry& entry :
       DueQuestions(participant, now, absl::InfiniteFuture())) {
    *view.add_due() = std::move(entry);
  }
  FillAlerts(participant, view);
  return view;
}

}  // namespace turnstone

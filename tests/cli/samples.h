// Alerts and a participant to show; all invented.
#pragma once

#include <google/protobuf/util/time_util.h>
#include <gtest/gtest.h>

#include <string>

#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {

inline google::protobuf::Timestamp Stamp(const std::string& utc) {
  google::protobuf::Timestamp stamp;
  EXPECT_TRUE(google::protobuf::util::TimeUtil::FromString(utc, &stamp)) << utc;
  return stamp;
}

inline v1::Actor Sorrel() {
  v1::Actor actor;
  actor.set_name("r.sorrel");
  actor.set_role("clinician");
  actor.set_identity("as stated");
  return actor;
}

inline void ClimbsTo(v1::Alert& alert, v1::Climbing climbing,
                     const std::string& next_utc) {
  v1::Escalation& escalation = *alert.mutable_escalation();
  escalation.set_ladder("cannot-wait");
  escalation.set_climbing(climbing);
  *escalation.mutable_next_at() = Stamp(next_utc);
  escalation.set_next(climbing == v1::UNTIL_CLOSED
                          ? "whoever is on duty (supervisor) is told"
                          : "everybody (on-call-lead) is told");
}

// What a list needs to know of it; nobody has received it.
inline v1::Alert SelfHarmAlert(const std::string& id, const std::string& utc) {
  v1::Alert alert;
  alert.set_alert_id(id);
  alert.set_site("harbour-row");
  alert.set_participant("P-0042");
  alert.set_time_zone("Europe/Dublin");
  alert.set_kind(v1::ALERT_KIND_SAFETY);
  alert.set_priority(v1::PRIORITY_STAT);
  alert.set_status(v1::ALERT_STATUS_REQUESTED);
  alert.set_latched(true);
  *alert.mutable_raised_at() = Stamp(utc);
  alert.mutable_rule()->set_title("Self-harm item answered above zero");
  alert.add_occurrence()->set_truth(v1::TRUTH_TRUE);
  ClimbsTo(alert, v1::UNTIL_RECEIVED, "2027-03-03T14:25:00Z");
  return alert;
}

inline void HeldBy(v1::Alert& alert, const std::string& name,
                   v1::AlertStatus status, const std::string& next_utc) {
  *alert.mutable_holder() = Sorrel();
  alert.mutable_holder()->set_name(name);
  alert.set_status(status);
  ClimbsTo(alert, v1::UNTIL_CLOSED, next_utc);
}

inline void PutOnHold(v1::Alert& alert, const std::string& until_utc,
                      const std::string& reason) {
  HeldBy(alert, "r.sorrel", v1::ALERT_STATUS_ON_HOLD, until_utc);
  alert.mutable_escalation()->set_climbing(v1::UNTIL_HOLD_ENDS);
  alert.mutable_escalation()->set_next("the hold ends");
  *alert.mutable_hold()->mutable_until() = Stamp(until_utc);
  alert.mutable_hold()->set_reason(reason);
}

inline void Tell(v1::Occurrence& occurrence, const std::string& event,
                 const std::string& utc) {
  occurrence.set_event_source("urn:example:intake");
  occurrence.set_event_id(event);
  *occurrence.mutable_effective_time() = Stamp(utc);
  *occurrence.mutable_raised_at() = Stamp(utc);
  occurrence.set_priority(v1::PRIORITY_STAT);
  occurrence.set_truth(v1::TRUTH_TRUE);
  occurrence.set_why(
      "The self-harm item of the PHQ-9 scores at least 1 point.");
  v1::ConditionTrace& trace = *occurrence.mutable_trace();
  trace.set_text("any of");
  trace.set_truth(v1::TRUTH_TRUE);
  v1::ConditionTrace& item = *trace.add_part();
  item.set_text("PHQ-9 self-harm item at least 1: it is 2");
  item.set_truth(v1::TRUTH_TRUE);
  v1::ConditionTrace& score = *trace.add_part();
  score.set_text("not");
  score.set_truth(v1::TRUTH_UNKNOWN);
  v1::ConditionTrace& total = *score.add_part();
  total.set_text("PHQ-9 total at most 19: it lies between 18 and 21");
  total.set_truth(v1::TRUTH_UNKNOWN);
  total.add_setting("programme-upper = 19 (rule set)");
  v1::ConditionTrace& earlier = *trace.add_part();
  earlier.set_text("self-harm item positive within the 90 days before");
  earlier.set_truth(v1::TRUTH_FALSE);
}

// Raised, repeated and received.
inline v1::Alert ToldAlert() {
  v1::Alert alert = SelfHarmAlert("A-17", "2027-03-03T11:55:00Z");
  HeldBy(alert, "r.sorrel", v1::ALERT_STATUS_RECEIVED, "2027-03-03T16:20:00Z");
  alert.mutable_escalation()->add_told("r.sorrel");
  alert.mutable_escalation()->add_told("t.linnet");
  alert.set_site_version(4);
  alert.set_position(31);
  alert.set_caution("Not a diagnosis and not an emergency service.");
  v1::RuleReference& rule = *alert.mutable_rule();
  rule.set_rule_set("harbour");
  rule.set_rule_set_version(3);
  rule.set_rule("self-harm-positive");
  rule.set_rule_version(2);
  rule.set_owner("programme lead");
  rule.set_rationale(
      "Any answer above zero has to be talked about with the participant "
      "before the visit ends.");
  rule.set_source("safety inference");
  rule.set_configuration("0123456789abcdef0123456789abcdef");
  Tell(*alert.mutable_occurrence(0), "s-3", "2027-03-03T11:50:00Z");
  Tell(*alert.add_occurrence(), "s-4", "2027-03-03T13:00:00Z");
  v1::ProtocolReminder& protocol = *alert.mutable_protocol();
  protocol.set_title("Answer to a self-harm item");
  protocol.set_text(
      "# First\n\n- **Stay** with the participant and ask about it in plain "
      "words, as the team has practised.\n- Tell the supervisor.\n");
  protocol.set_version(4);
  protocol.set_review_by("2027-06-30");
  v1::AlertChange& raised = *alert.add_history();
  *raised.mutable_at() = Stamp("2027-03-03T11:55:00Z");
  raised.mutable_by()->set_identity("service");
  raised.set_status(v1::ALERT_STATUS_REQUESTED);
  raised.set_priority(v1::PRIORITY_STAT);
  raised.set_text("Raised.");
  v1::AlertChange& told = *alert.add_history();
  *told.mutable_at() = Stamp("2027-03-03T12:15:00Z");
  told.mutable_by()->set_identity("service");
  told.set_status(v1::ALERT_STATUS_REQUESTED);
  told.set_priority(v1::PRIORITY_STAT);
  told.set_text("rung 2, the last, of cannot-wait: nobody has received it");
  told.set_late_seconds(300);
  told.add_told("r.sorrel");
  told.add_told("t.linnet");
  told.set_times(3);
  v1::AlertChange& received = *alert.add_history();
  *received.mutable_at() = Stamp("2027-03-03T12:20:00Z");
  *received.mutable_by() = Sorrel();
  received.set_status(v1::ALERT_STATUS_RECEIVED);
  received.set_priority(v1::PRIORITY_STAT);
  received.set_text("Has it in hand.");
  return alert;
}

inline void AddScore(v1::ScoreSeries& series, const std::string& utc, int low,
                     int high, const std::string& band) {
  v1::ScorePoint& point = *series.add_point();
  *point.mutable_effective_time() = Stamp(utc);
  point.set_low(low);
  point.set_high(high);
  point.set_band(band);
}

inline void AddEntry(v1::ParticipantView& view, const std::string& utc,
                     const std::string& id, const std::string& text) {
  v1::TimelineEntry& entry = *view.add_timeline();
  *entry.mutable_effective_time() = Stamp(utc);
  entry.set_event_id(id);
  entry.set_text(text);
}

inline v1::ParticipantView Course() {
  v1::ParticipantView view;
  view.set_site("harbour-row");
  view.set_participant("P-0042");
  view.set_time_zone("Europe/Dublin");
  *view.mutable_now() = Stamp("2027-03-03T14:05:00Z");
  view.set_enrolled(true);
  view.set_visits_attended(3);
  view.set_visits_planned(8);
  v1::ScoreSeries& series = *view.add_series();
  series.set_name("PHQ-9");
  series.set_highest_possible(27);
  series.set_direction(v1::DIRECTION_HIGHER_IS_WORSE);
  AddScore(series, "2027-02-01T10:00:00Z", 12, 12, "moderate");
  AddScore(series, "2027-02-15T10:00:00Z", 14, 17, "");
  series.mutable_point(1)->set_prorated(16);
  AddScore(series, "2027-03-03T11:50:00Z", 21, 21, "severe");
  AddEntry(view, "2027-02-01T10:00:00Z", "s-1", "PHQ-9 12 (moderate)");
  AddEntry(view, "2027-02-10T10:00:00Z", "v-1", "visit-1: attended");
  AddEntry(view, "2027-02-11T10:00:00Z", "v-2", "visit-2: attended");
  view.mutable_timeline(1)->set_corrected_by("c-1");
  view.mutable_timeline(2)->set_corrected_by("c-2");
  view.mutable_timeline(2)->set_withdrawn(true);
  v1::DueEntry& late = *view.add_due();
  *late.mutable_at() = Stamp("2027-03-02T17:00:00Z");
  late.set_text("outcome of visit-4 (planned 1 Mar)");
  v1::DueEntry& next = *view.add_due();
  *next.mutable_at() = Stamp("2027-03-29T16:00:00Z");
  next.set_text("screening with PHQ-9");
  *view.add_alert() = SelfHarmAlert("A-17", "2027-03-03T11:55:00Z");
  v1::Alert& ended = *view.add_alert();
  ended = SelfHarmAlert("A-3", "2027-02-15T10:00:00Z");
  ended.set_kind(v1::ALERT_KIND_OUTREACH);
  ended.set_priority(v1::PRIORITY_URGENT);
  ended.set_status(v1::ALERT_STATUS_COMPLETED);
  ended.clear_escalation();
  ended.mutable_rule()->set_title("Two missed contacts in a row");
  view.set_caution("Not a diagnosis and not an emergency service.");
  return view;
}

}  // namespace turnstone::cli

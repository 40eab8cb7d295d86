// A team's duty, what is to come and what is owed; all invented.
#pragma once

#include <string>

#include "tests/cli/samples.h"

namespace turnstone::cli {

inline v1::Duty LeadDuty() {
  v1::Duty duty;
  duty.set_role("on-call-lead");
  duty.add_person("r.sorrel");
  *duty.mutable_until() = Stamp("2027-03-04T09:00:00Z");
  duty.add_next_person("t.linnet");
  duty.set_why("rotation");
  return duty;
}

inline v1::OnCall SampleOnCall() {
  v1::OnCall on_call;
  on_call.set_site("harbour-row");
  on_call.set_time_zone("Europe/Dublin");
  *on_call.mutable_at() = Stamp("2027-03-03T14:05:00Z");
  *on_call.add_duty() = LeadDuty();
  v1::Duty& supervisor = *on_call.add_duty();
  supervisor.set_role("supervisor");
  on_call.add_concern(
      "supervisor: nobody is on duty from Wed 3 Mar 2027 14:05 GMT on, and "
      "everybody of the role is told");
  on_call.add_concern("protocol self-harm: its review was due by 2026-12-31");
  return on_call;
}

inline v1::Handover SampleHandover() {
  v1::Handover handover;
  handover.set_site("harbour-row");
  handover.set_time_zone("Europe/Dublin");
  *handover.mutable_now() = Stamp("2027-03-03T14:05:00Z");
  *handover.mutable_duty() = LeadDuty();
  *handover.add_alert() = SelfHarmAlert("A-17", "2027-03-03T11:55:00Z");
  v1::Alert& outreach = *handover.add_alert();
  outreach = SelfHarmAlert("A-9", "2027-03-01T09:05:00Z");
  outreach.set_kind(v1::ALERT_KIND_OUTREACH);
  outreach.set_priority(v1::PRIORITY_URGENT);
  outreach.set_latched(false);
  outreach.mutable_rule()->set_title("Two missed contacts in a row");
  HeldBy(outreach, "t.linnet", v1::ALERT_STATUS_IN_PROGRESS,
         "2027-03-04T17:00:00Z");
  v1::HandoverOffer& offer = *handover.mutable_offer();
  offer.set_role("on-call-lead");
  offer.set_from("r.sorrel");
  offer.set_to("t.linnet");
  offer.set_note("A-17: the daughter rings back at six.");
  *offer.mutable_at() = Stamp("2027-03-03T14:00:00Z");
  return handover;
}

inline v1::DueItem& DueAt(v1::DueList& due, const std::string& utc,
                          const std::string& participant,
                          const std::string& text) {
  v1::DueItem& item = *due.add_item();
  *item.mutable_at() = Stamp(utc);
  item.set_site("harbour-row");
  item.set_time_zone("Europe/Dublin");
  item.set_participant(participant);
  item.set_text(text);
  return item;
}

inline v1::DueList SampleDue() {
  v1::DueList due;
  *due.mutable_now() = Stamp("2027-03-03T14:05:00Z");
  DueAt(due, "2027-03-03T14:00:00Z", "P-0005",
        "outcome of visit-4 (planned 2 Mar)");
  v1::DueItem& rung = DueAt(due, "2027-03-03T14:25:00Z", "P-0042",
                            "everybody (on-call-lead) is told");
  rung.set_alert_id("A-17");
  rung.set_priority(v1::PRIORITY_STAT);
  DueAt(due, "2027-03-04T09:00:00Z", "P-0107", "screening with PHQ-9");
  return due;
}

inline v1::OwedMessage& AddMessage(v1::Outbox& outbox, const std::string& alert,
                                   const std::string& person,
                                   v1::MessageStatus status,
                                   const std::string& since_utc) {
  v1::OwedMessage& message = *outbox.add_message();
  message.set_alert_id(alert);
  message.set_person(person);
  message.set_site("harbour-row");
  message.set_channel("mail");
  message.set_priority(v1::PRIORITY_STAT);
  message.set_status(status);
  *message.mutable_owed_since() = Stamp(since_utc);
  message.set_reason("nobody has received it (rung 2)");
  return message;
}

inline v1::Outbox SampleOutbox() {
  v1::Outbox outbox;
  *outbox.mutable_now() = Stamp("2027-03-03T14:05:00Z");
  outbox.set_sending(true);
  outbox.set_total(3);
  v1::ChannelState& mail = *outbox.add_channel();
  mail.set_site("harbour-row");
  mail.set_channel("mail");
  mail.set_time_zone("Europe/Dublin");
  mail.set_failures_in_a_row(5);
  *mail.mutable_rests_until() = Stamp("2027-03-03T14:10:00Z");
  mail.set_last_error("the connection was refused");
  mail.set_owed(1);
  *mail.mutable_oldest_owed_since() = Stamp("2027-03-03T13:35:00Z");
  v1::ChannelState& relay = *outbox.add_channel();
  relay.set_site("harbour-row");
  relay.set_channel("relay");
  relay.set_time_zone("Europe/Dublin");
  v1::OwedMessage& owed =
      AddMessage(outbox, "A-17", "r.sorrel", v1::MESSAGE_STATUS_OWED,
                 "2027-03-03T13:35:00Z");
  owed.set_attempts(5);
  *owed.mutable_next_attempt_at() = Stamp("2027-03-03T14:10:00Z");
  *owed.mutable_deadline() = Stamp("2027-03-03T14:00:00Z");
  owed.set_last_error("the connection was refused");
  v1::OwedMessage& gone =
      AddMessage(outbox, "", "t.linnet", v1::MESSAGE_STATUS_GIVEN_UP,
                 "2027-03-02T14:05:00Z");
  gone.set_reason("hand-over offered");
  gone.set_priority(v1::PRIORITY_ROUTINE);
  gone.set_attempts(12);
  *gone.mutable_ended_at() = Stamp("2027-03-03T02:05:00Z");
  gone.set_in_digest(true);
  return outbox;
}

}  // namespace turnstone::cli

// Envelopes to compose and to send. People, places and names are invented.
#pragma once

#include <string>

#include "rules/measure/proto_time.h"
#include "service/core/envelope.h"
#include "tests/support/events.h"

namespace turnstone {

inline v1::OwedMessage Message(const std::string& alert_id,
                               v1::Priority priority, const std::string& reason,
                               const std::string& deadline) {
  v1::OwedMessage message;
  message.set_key(alert_id + "/3/r.sorrel/mail");
  message.set_site("pebble-bay");
  message.set_alert_id(alert_id);
  message.set_person("r.sorrel");
  message.set_channel("mail");
  message.set_priority(priority);
  message.set_reason(reason);
  if (!deadline.empty()) *message.mutable_deadline() = ToProto(At(deadline));
  *message.mutable_owed_since() = ToProto(At("2027-02-06T03:00:00Z"));
  return message;
}

// By e-mail, of one alert that is most pressing.
inline Envelope MailEnvelope() {
  Envelope envelope;
  envelope.key = "A-17/3/r.sorrel/mail";
  envelope.site = "pebble-bay";
  envelope.site_name = "Pebble Bay visiting team (fictional)";
  envelope.time_zone = "Europe/Dublin";
  envelope.person = "r.sorrel";
  envelope.address = "r.sorrel@team.example";
  envelope.channel.set_id("mail");
  envelope.channel.mutable_smtp()->set_from("alerts@pebble-bay.example");
  envelope.messages = {Message("A-17", v1::PRIORITY_STAT,
                               "nobody has received it (rung 2)",
                               "2027-02-06T09:00:00Z")};
  envelope.now = At("2027-02-06T03:12:00Z");
  return envelope;
}

// A daily message of three alerts.
inline Envelope DailyEnvelope() {
  Envelope envelope = MailEnvelope();
  envelope.key = "daily/2027-01-05/r.sorrel/mail";
  envelope.now = At("2027-01-05T09:00:00Z");
  envelope.messages = {
      Message("A-20", v1::PRIORITY_ROUTINE, "it was raised", ""),
      Message("A-19", v1::PRIORITY_URGENT, "it was raised",
              "2027-01-08T17:00:00Z"),
      Message("A-18", v1::PRIORITY_URGENT, "nobody has received it (rung 2)",
              "2027-01-07T17:00:00Z")};
  for (v1::OwedMessage& message : envelope.messages) {
    message.set_in_digest(true);
  }
  return envelope;
}

inline Envelope SignOfLifeEnvelope() {
  Envelope envelope = MailEnvelope();
  envelope.key = "life/pebble-bay/2027-02-06/r.sorrel/mail";
  envelope.messages = {Message("", v1::PRIORITY_ROUTINE,
                               "the service is working; 4 alerts are open, 1 "
                               "of them in nobody's hands",
                               "2027-02-07T07:30:00Z")};
  envelope.messages[0].set_sign_of_life(true);
  return envelope;
}

inline Envelope HandOverEnvelope() {
  Envelope envelope = MailEnvelope();
  envelope.key = "handover/h-3/d.heron/mail";
  envelope.site_name = "Trá Dhoineann visiting team (fictional)";
  envelope.person = "d.heron";
  envelope.address = "d.heron@team.example";
  envelope.messages = {Message("", v1::PRIORITY_UNSPECIFIED,
                               "r.sorrel hands over on-call-lead: 4 alerts "
                               "are open, 1 of them is held by nobody",
                               "")};
  return envelope;
}

}  // namespace turnstone

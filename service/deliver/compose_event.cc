#include <absl/strings/str_cat.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "rules/measure/proto_time.h"
#include "service/deliver/compose.h"
#include "service/deliver/message_words.h"

namespace turnstone {
namespace {

using Json = nlohmann::ordered_json;

std::string Rfc3339(absl::Time time) {
  return absl::FormatTime("%Y-%m-%dT%H:%M:%E*SZ", time, absl::UTCTimeZone());
}

// When the last of what the envelope holds came to be owed: the same on a
// repeat.
absl::Time OwedSince(const Envelope& envelope) {
  absl::Time since = absl::InfinitePast();
  for (const v1::OwedMessage& message : envelope.messages) {
    since = std::max(since, FromProto(message.owed_since()));
  }
  return since;
}

Json AlertOf(const v1::OwedMessage& message) {
  Json alert;
  if (!message.alert_id().empty()) alert["alertId"] = message.alert_id();
  alert["priority"] = PriorityWord(message.priority());
  if (message.sign_of_life()) alert["signOfLife"] = true;
  alert["reason"] = message.reason();
  if (message.has_deadline()) {
    alert["deadline"] = Rfc3339(DeadlineOf(message));
  }
  alert["open"] = OpenCommand(message);
  return alert;
}

}  // namespace

std::string SourceOf(const Envelope& envelope) {
  return absl::StrCat("/turnstone/sites/", envelope.site);
}

std::string ComposeCloudEvent(const Envelope& envelope) {
  const auto messages = MostPressingFirst(envelope.messages);
  Json event;
  event["specversion"] = "1.0";
  event["id"] = envelope.key;
  event["source"] = SourceOf(envelope);
  event["type"] = "turnstone.message.v1";
  const std::string& alert_id = messages.front().alert_id();
  if (!IsDaily(envelope) && !alert_id.empty()) event["subject"] = alert_id;
  event["time"] = Rfc3339(OwedSince(envelope));
  event["datacontenttype"] = "application/json";
  Json& data = event["data"];
  data["key"] = envelope.key;
  data["site"] = envelope.site;
  data["person"] = envelope.person;
  data["priority"] = PriorityWord(messages.front().priority());
  data["alerts"] = Json::array();
  for (const v1::OwedMessage& message : messages) {
    data["alerts"].push_back(AlertOf(message));
  }
  // Bytes that are no UTF-8 are replaced, never thrown over.
  return event.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace turnstone

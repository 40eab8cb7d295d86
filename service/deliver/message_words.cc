#include "service/deliver/message_words.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/strip.h>

#include <algorithm>

#include "rules/measure/proto_time.h"

namespace turnstone {

std::string PriorityWord(v1::Priority priority) {
  if (priority == v1::PRIORITY_UNSPECIFIED) return "not stated";
  return absl::AsciiStrToLower(
      absl::StripPrefix(v1::Priority_Name(priority), "PRIORITY_"));
}

std::string OpenCommand(const v1::OwedMessage& message) {
  if (message.sign_of_life()) return "turnstone alerts";
  if (message.alert_id().empty()) return "turnstone handover";
  return absl::StrCat("turnstone alert ", message.alert_id());
}

bool IsDaily(const Envelope& envelope) {
  return envelope.messages.front().in_digest();
}

absl::Time DeadlineOf(const v1::OwedMessage& message) {
  return message.has_deadline() ? FromProto(message.deadline())
                                : absl::InfiniteFuture();
}

std::vector<v1::OwedMessage> MostPressingFirst(
    std::vector<v1::OwedMessage> messages) {
  std::stable_sort(messages.begin(), messages.end(),
                   [](const v1::OwedMessage& a, const v1::OwedMessage& b) {
                     if (a.priority() != b.priority()) {
                       return a.priority() > b.priority();
                     }
                     return DeadlineOf(a) < DeadlineOf(b);
                   });
  return messages;
}

}  // namespace turnstone

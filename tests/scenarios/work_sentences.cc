#include "tests/scenarios/work_sentences.h"

#include <regex>

#include "rules/measure/proto_time.h"
#include "tests/scenarios/sentences.h"

namespace turnstone::scenarios {
namespace {

// VERB A-1 [until 2027-03-30 09:00] [outcome ID] [WORDS "..."]
const std::regex& Pattern() {
  static const std::regex pattern(
      "([a-z-]+) (A-[0-9]+)(?: until (.{16}))?(?: outcome (\\S+))?"
      "(?:(?: note| reason)? \"([^\"]*)\")?");
  return pattern;
}

bool Fill(const std::smatch& match, absl::TimeZone zone,
          v1::WorkAlertRequest& request) {
  const std::string verb = match[1];
  const std::string words = match[5];
  if (verb == "receive") {
    request.mutable_receive()->set_note(words);
  } else if (verb == "start-work") {
    request.mutable_start()->set_note(words);
  } else if (verb == "hold") {
    request.mutable_hold()->set_reason(words);
    const auto until = ReadLocal(match[3], zone);
    if (until.ok()) *request.mutable_hold()->mutable_until() = ToProto(*until);
  } else if (verb == "note") {
    request.mutable_note()->set_note(words);
  } else if (verb == "close") {
    request.mutable_close()->set_outcome(match[4]);
    request.mutable_close()->set_note(words);
  } else if (verb == "confirm") {
    request.mutable_confirm()->set_note(words);
  } else if (verb == "cancel") {
    request.mutable_cancel()->set_reason(words);
  } else if (verb == "reopen") {
    request.mutable_reopen()->set_reason(words);
  } else {
    return false;
  }
  return true;
}

}  // namespace

std::optional<v1::Actor> TakeActor(std::string& sentence) {
  static const std::regex actor("(.*) as (\\S+) (\\S+)");
  std::smatch match;
  if (!std::regex_match(sentence, match, actor)) return std::nullopt;
  v1::Actor by;
  by.set_name(match[2]);
  by.set_role(match[3]);
  sentence = std::string(match[1]);
  return by;
}

std::optional<WorkSentence> WorkOf(const std::string& sentence,
                                   absl::TimeZone zone) {
  std::string rest = sentence;
  const std::optional<v1::Actor> by = TakeActor(rest);
  std::smatch match;
  if (!by || !std::regex_match(rest, match, Pattern())) return std::nullopt;
  WorkSentence work{{}, *by};
  work.request.set_alert_id(match[2]);
  if (!Fill(match, zone, work.request)) return std::nullopt;
  return work;
}

}  // namespace turnstone::scenarios

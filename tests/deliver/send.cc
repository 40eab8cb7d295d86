// Sends one envelope by the real transport and prints what came of it, e.g.
// "OK" or "UNAVAILABLE webhook: the receiver answered 503".
//
// Usage: deliver_send CREDENTIALS_FOLDER TIMEOUT_MILLISECONDS < ENVELOPE
// The envelope is JSON: {"key", "address", "now", "channel", "message"}, the
// last two as protobuf writes Channel and OwedMessage.
#include <absl/status/status.h>
#include <google/protobuf/util/json_util.h>

#include <cstdio>
#include <cstdlib>
#include <iostream>
#include <nlohmann/json.hpp>

#include "service/deliver/curl_transport.h"
#include "tests/support/events.h"

namespace turnstone {
namespace {

bool Parse(const nlohmann::json& json, google::protobuf::Message& message) {
  return google::protobuf::util::JsonStringToMessage(json.dump(), &message)
      .ok();
}

int Run(const std::string& folder, int timeout) {
  const nlohmann::json json = nlohmann::json::parse(std::cin);
  Envelope envelope;
  envelope.key = json["key"];
  envelope.site = "pebble-bay";
  envelope.site_name = "Pebble Bay visiting team (fictional)";
  envelope.time_zone = "Europe/Dublin";
  envelope.person = "r.sorrel";
  envelope.address = json["address"];
  envelope.now = At(json["now"]);
  envelope.messages.emplace_back();
  if (!Parse(json["channel"], envelope.channel) ||
      !Parse(json["message"], envelope.messages[0])) {
    std::fputs("deliver_send: this is no envelope\n", stderr);
    return 2;
  }
  CurlOptions options;
  options.whole_timeout = absl::Milliseconds(timeout);
  CurlTransport transport(Credentials(folder), options);
  const absl::Status status = transport.Send(envelope);
  std::printf("%s %s\n", absl::StatusCodeToString(status.code()).c_str(),
              std::string(status.message()).c_str());
  return 0;
}

}  // namespace
}  // namespace turnstone

// NOLINTNEXTLINE(bugprone-exception-escape): because a bad call may end it.
int main(int argc, const char** argv) {
  if (argc != 3) {
    std::fputs("usage: deliver_send FOLDER MILLISECONDS < ENVELOPE\n", stderr);
    return 2;
  }
  return turnstone::Run(argv[1], std::atoi(argv[2]));
}

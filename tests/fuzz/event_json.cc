#include <google/protobuf/util/json_util.h>
#include <google/protobuf/util/message_differencer.h>

#include <sstream>

#include "clients/cli/read_line.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/strict_json.h"
#include "rules/check/event_check.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"
#include "tests/support/shipped.h"

namespace turnstone::fuzz {
namespace {

void WriteAndReadAgain(const v1::Event& event) {
  std::string json;
  Promise(google::protobuf::util::MessageToJsonString(event, &json).ok(),
          "what was read can be written");
  if (json.size() > cli::kLongestLine) return;
  const auto again = cli::ParseEventLine(json);
  Promise(again.ok() &&
              google::protobuf::util::MessageDifferencer::Equals(event, *again),
          "what was written is read as the same");
}

}  // namespace

int EventJson(const uint8_t* data, size_t size) {
  static const auto& setup = *new Setup(ShippedSetup());
  std::istringstream in({reinterpret_cast<const char*>(data), size});
  std::string line;
  while (cli::ReadLine(in, line)) {
    const auto event = cli::ParseEventLine(line);
    if (event.ok()) {
      WriteAndReadAgain(*event);
      CheckEvent(*event, setup, absl::FromUnixSeconds(kNowSeconds))
          .IgnoreError();
      continue;
    }
    const std::string said =
        cli::CleanLine(std::string(event.status().message()));
    Promise(!said.empty() && said.find('\x1b') == std::string::npos,
            "a refusal says why, without an escape");
  }
  return 0;
}

}  // namespace turnstone::fuzz

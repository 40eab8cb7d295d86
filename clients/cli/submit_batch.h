// Sending up to 64 events and learning what became of each.
#pragma once

#include <absl/status/status.h>

#include <optional>
#include <string>
#include <vector>

#include "clients/cli/connection.h"
#include "clients/cli/sleeper.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {

inline constexpr size_t kBatch = 64;
inline constexpr int kAttempts = 5;

enum class LineState {
  // Not sent, or sent and no result known.
  kOpen,
  kAccepted,
  // By us (no event could be read) or by the service.
  kRefused,
  // The service was too busy to accept it.
  kTurnedAway,
};

struct InputLine {
  int number = 0;  // from 1
  std::optional<v1::Event> event;
  LineState state = LineState::kOpen;
  v1::SubmitResponse accepted;
  std::string reason;  // why it was refused
};

// Sends the open lines, at most kBatch, on one stream, and again with growing
// pauses while the service is too busy, up to kAttempts times. OK: no line is
// open any more. Otherwise the lines still open have no known result.
[[nodiscard]] absl::Status SendBatch(const Connection& connection,
                                     Sleeper& sleeper,
                                     std::vector<InputLine>& lines);

}  // namespace turnstone::cli

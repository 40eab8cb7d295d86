// How the service is doing, in numbers: nothing of any participant.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <cstdint>
#include <map>
#include <vector>

#include "service/store/store.h"

namespace turnstone {

// What became of what was submitted since the program started.
struct Submissions {
  int64_t accepted = 0;
  int64_t repeated = 0;
  std::map<absl::StatusCode, int64_t> refused;
};

struct ChannelFigures {
  ChannelKey channel;
  int64_t owed = 0;
  // For how long the oldest has been owed.
  absl::Duration oldest;
  int failures_in_a_row = 0;
};

struct Figures {
  Submissions submissions;
  OpenCount open;
  // By how much the question or rung that has waited longest is late.
  absl::Duration late;
  bool accepting = false;
  bool recording = false;
  absl::Duration clock_behind;
  std::vector<ChannelFigures> channels;
};

}  // namespace turnstone

// Whether there is room to record, and what may still be taken on.
#pragma once

#include <cstdint>

#include "service/store/disk_space.h"

namespace turnstone {

enum class Room {
  kEnough,
  // New events are refused, so that the room left serves the alerts that are
  // open: work on them, their ladders, messages, hand-overs.
  kShort,
  // Even the reserve is used up: nothing can be recorded.
  kNone,
};

// Single-thread.
class SpaceWatch {
 public:
  // Free bytes, the reserve not counted: below the first, events are refused;
  // above the second, they are taken again. Common practice, no source: the
  // first is more than one round of work can write, twice over.
  static constexpr int64_t kLowMark = int64_t{128} << 20;
  static constexpr int64_t kHighMark = int64_t{256} << 20;

  // `space` outlives this; null: nobody watches, and there is always enough.
  explicit SpaceWatch(DiskSpace* space) : space_(space) {}

  // Looks how much is free. Holds the reserve while there is enough.
  void Look();
  // A commit has gone through, or was refused for want of room.
  void Recorded();
  void Refused();

  [[nodiscard]] Room room() const { return room_; }
  // A commit was refused since there was last enough: keep them small.
  [[nodiscard]] bool refused() const { return refused_; }

 private:
  DiskSpace* space_;
  Room room_ = Room::kEnough;
  bool refused_ = false;
};

}  // namespace turnstone

// How much of what waits one round of work takes.
#pragma once

#include <absl/time/time.h>

#include <algorithm>
#include <cstddef>

namespace turnstone {

// As many pieces as take about kRoundMax, going by those of the last round, and
// one at least: so that whoever comes meanwhile waits for little more than
// that, however much others have sent. One piece that takes longer is not cut
// short. Thread-compatible.
class RoundShare {
 public:
  // Common practice, no source: little beside the time people notice, much
  // beside a sync of the disk.
  static constexpr absl::Duration kRoundMax = absl::Milliseconds(20);

  // Never more than `max`, and to begin with that many. REQUIRES: max >= 1.
  explicit RoundShare(size_t max) : max_(max), pieces_(max) {}

  [[nodiscard]] size_t pieces() const { return pieces_; }

  // A round did `pieces` in the time `took`.
  void Learn(size_t pieces, absl::Duration took) {
    if (pieces == 0) return;
    const double share =
        took > absl::ZeroDuration()
            ? static_cast<double>(pieces) * absl::FDivDuration(kRoundMax, took)
            : static_cast<double>(max_);
    pieces_ =
        static_cast<size_t>(std::clamp(share, 1.0, static_cast<double>(max_)));
  }

 private:
  const size_t max_;
  size_t pieces_;
};

}  // namespace turnstone

// Who of a role is on duty, at any moment, across clock changes.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "turnstone/v1/duty.pb.h"

namespace turnstone {

// A time during which the same people are on duty for the same reason.
struct Shift {
  absl::Time from;
  absl::Time until;
  // Ids, in the order of the rota; empty: nobody.
  std::vector<std::string> persons;
  // "rotation", "override: the reason given", "hand-over", or empty.
  std::string why;
};

// One person has given another the rest of a duty.
struct Swap {
  std::string role;
  std::string from;
  std::string to;
  absl::Time begin;
  absl::Time end;
};

// Immutable; safe to share. A local time that a clock change skips or repeats
// is read as RFC 5545 section 3.3.5 says (LocalToAbsolute).
class Rota {
 public:
  // REQUIRES: `rota` passed the checks of rules/check.
  Rota(v1::Rota rota, absl::TimeZone zone);

  [[nodiscard]] const std::string& role() const { return rota_.role(); }
  // Why there may be gaps; empty: there may be none.
  [[nodiscard]] const std::string& gaps_because() const {
    return rota_.gaps_because();
  }
  // The shifts of [from, until), in order and without holes, the first and the
  // last cut to it; neighbours with the same people and reason are one.
  // `swaps`: those of this role count. REQUIRES: both finite, at most 400 days
  // apart.
  [[nodiscard]] std::vector<Shift> Between(
      absl::Time from, absl::Time until, const std::vector<Swap>& swaps) const;
  // The shift that holds `time`. `from` is `time`; `until` at most a year on.
  [[nodiscard]] Shift At(absl::Time time, const std::vector<Swap>& swaps) const;

 private:
  v1::Rota rota_;
  absl::TimeZone zone_;
};

}  // namespace turnstone

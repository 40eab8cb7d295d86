// Whether a ladder goes on for ever, and ends at people.
#pragma once

#include <absl/time/time.h>

#include <cstdint>
#include <string>
#include <vector>

#include "rules/engine/setup.h"

namespace turnstone {

// Times looked at, hour by hour.
struct LookedAtSpan {
  absl::Time from;
  absl::Time until;
};

// The fortnight from `from` on, and one about the next clock change within 400
// days, if there is one. Pure.
[[nodiscard]] std::vector<LookedAtSpan> SpansFrom(absl::Time from,
                                                  absl::TimeZone zone);

// What was found out of one climb.
struct ClimbLooked {
  uint64_t moments = 0;  // rungs reached, each at every moment
  std::string wrong;     // empty: nothing
};

// `site` and `spans` must outlive it.
class ClimbLook {
 public:
  ClimbLook(const Site& site, const std::vector<LookedAtSpan>& spans)
      : site_(site), spans_(spans) {}

  // Pure.
  [[nodiscard]] ClimbLooked Look(const v1::Climb& climb) const;

 private:
  // What is wrong with the wait after `reached` rungs; so below: empty if
  // nothing is.
  [[nodiscard]] std::string WaitWrong(const v1::Climb& climb, int reached,
                                      absl::Time at) const;
  // Whether people are told of whom somebody is always there: neither whoever
  // has the alert is, nor the participant's own clinician.
  [[nodiscard]] std::string PeopleWrong(const v1::Rung& rung) const;
  // Whether the site has everybody who is on duty.
  [[nodiscard]] std::string RotaWrong(const std::string& role) const;
  [[nodiscard]] bool HasPeople(const std::string& role) const;

  const Site& site_;
  const std::vector<LookedAtSpan>& spans_;
};

}  // namespace turnstone

// Everybody a file of forms is about.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "rules/engine/history.h"
#include "turnstone/v1/measure.pb.h"

namespace turnstone::cli {

// Keeps pointers into the Catalogue it was given. Thread-compatible.
class Caseload {
 public:
  explicit Caseload(const Catalogue& catalogue) : catalogue_(catalogue) {}

  // Takes in an event of any kind; the same one again changes nothing.
  // INVALID_ARGUMENT, with what to send instead and nothing changed, if the
  // service would refuse it, its site and its own clock apart; or if it mends
  // an event that was not taken in before.
  [[nodiscard]] absl::Status Take(const v1::Event& event);

  // Everybody with a form, in order of site and participant.
  [[nodiscard]] std::vector<v1::MeasuredParticipant> Measure(
      absl::TimeZone zone) const;

 private:
  const Catalogue& catalogue_;
  std::map<std::pair<std::string, std::string>, History> histories_;
  std::map<EventKey, v1::Event> taken_;
};

}  // namespace turnstone::cli

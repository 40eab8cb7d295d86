// A service in a world of its own: a core on a real store, a clock that only
// the script moves, and channels that only the script breaks.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "platform/clock.h"
#include "service/core/core.h"
#include "tests/scenarios/channels.h"

namespace turnstone::scenarios {

// Rules without their examples: those decide nothing, and with them a service
// takes ten times as long to start.
void LeaveOutExamples(v1::Configuration& configuration);

class World {
 public:
  // `folder` is emptied, and removed at the end.
  explicit World(std::string folder);
  ~World();

  // The shipped rules with these sites, from tests/scenarios/sites.
  [[nodiscard]] absl::Status Begin(const std::vector<std::string>& sites,
                                   const std::string& local_time);
  // Time passes; everything is done when it is due.
  [[nodiscard]] absl::Status Advance(absl::Duration by);
  // The service is killed now, and started again that much later.
  [[nodiscard]] absl::Status Down(absl::Duration length);
  // Where the rules in force, run in shadow beside themselves from the
  // beginning, have found something else than the alerts show (BrokeShadow);
  // empty if nowhere.
  [[nodiscard]] std::string ShadowDiffers();
  // After the store failed: the service is started again on what is left. The
  // line that was being played is then to be played again: an event without an
  // answer is sent again as it was, and time goes on to where it was bound.
  [[nodiscard]] absl::Status Restart();
  // The same sites with another configuration, as after a reload.
  [[nodiscard]] absl::Status Reload(const v1::Configuration& configuration);

  [[nodiscard]] absl::Status Submit(const std::string& participant,
                                    std::optional<absl::Time> when,
                                    const std::string& sentence);
  // Makes what was staged durable, and sends what is owed then.
  [[nodiscard]] absl::Status Settle();

  [[nodiscard]] Core& core() { return *core_; }
  [[nodiscard]] Channels& channels() { return channels_; }
  // The site of "otter-mill/x"; the first one of a name without a slash.
  [[nodiscard]] std::pair<std::string, std::string> Place(
      const std::string& name) const;
  [[nodiscard]] absl::TimeZone zone() const { return zone_; }
  [[nodiscard]] bool has_sites() const { return sites_ > 1; }
  [[nodiscard]] bool has_begun() const { return core_ != nullptr; }
  // Every event the service has said it accepted.
  [[nodiscard]] const std::vector<v1::Event>& accepted() const {
    return accepted_;
  }

 private:
  [[nodiscard]] absl::Status StartShadow();
  [[nodiscard]] absl::Status Deliver();
  [[nodiscard]] absl::StatusOr<absl::Time> NextMoment();

  std::string folder_;
  v1::Configuration configuration_;
  std::string first_site_;
  int sites_ = 0;
  absl::TimeZone zone_;
  std::unique_ptr<SimulatedClock> clock_;
  Channels channels_;
  std::unique_ptr<Core> core_;
  int events_ = 0;
  std::vector<v1::Event> accepted_;
  std::optional<v1::Event> unanswered_;
  // Where an Advance or Down under way is to end.
  std::optional<absl::Time> bound_for_;
  std::map<std::string, v1::Event> last_event_;  // by participant
};

}  // namespace turnstone::scenarios

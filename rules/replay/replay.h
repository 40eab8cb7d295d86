// What a candidate would have raised over recorded events, beside what is in
// force. Nothing is decided anew by it.
#pragma once

#include <absl/container/inlined_vector.h>
#include <absl/status/status.h>
#include <absl/time/time.h>

#include <string>
#include <unordered_map>
#include <vector>

#include "rules/engine/setup.h"
#include "rules/replay/difference.h"
#include "rules/replay/lane.h"
#include "rules/replay/track.h"

namespace turnstone {

// Reasons raised from `from` on and before `to` are compared; events from
// before only make the history. Without an end: up to the latest event.
struct ReplayWindow {
  absl::Time from = absl::InfinitePast();
  absl::Time to = absl::InfiniteFuture();
};

// Thread-compatible.
class Replay {
 public:
  // What it is given must outlive it. REQUIRES: both have the site.
  Replay(const Setup& before, const Setup& after, const std::string& site,
         const ReplayWindow& window);

  // The next event of the site, in the order of acceptance, as the service took
  // it in: time passes, with everything that falls due on the way, and then the
  // event is known. `recorded` never goes back. INVALID_ARGUMENT where neither
  // side can read the event; it is then as if it had not been.
  absl::Status Take(const v1::Event& event, absl::Time recorded);
  // Time passes up to the end of the window. To be called once, at the end.
  [[nodiscard]] Difference Finish();

 private:
  // By lane.
  using Tracks = absl::InlinedVector<Track, 1>;
  // What one side alone raised at one moment.
  struct Step;

  void PassTime(const std::string& participant, Tracks& tracks, absl::Time now);
  // `came_in`: when what made the rules speak came in; InfinitePast for what
  // fell due by itself.
  void Count(const std::vector<Judgement>& raised, size_t lane,
             const Track& track, absl::Time came_in, Step& step);
  void Tell(const std::string& participant, const Step& step);

  const std::vector<Lane> lanes_;
  const ReplayWindow window_;
  absl::Time latest_ = absl::InfinitePast();
  std::unordered_map<std::string, Tracks> people_;
  Difference difference_;
};

}  // namespace turnstone

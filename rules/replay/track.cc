#include "rules/replay/track.h"

#include <algorithm>
#include <optional>
#include <utility>

namespace turnstone {

std::vector<Judgement> Track::PassTime(const Lane& lane, absl::Time now) {
  if (agenda_.NextAfter(asked_until_) > now) {
    asked_until_ = std::max(asked_until_, now);
    return {};
  }
  const Asking asking{absl::InfiniteFuture(), asked_until_, now};
  asked_until_ = now;
  return RaisedNow(Judge(lane.site, history_, agenda_, asking));
}

absl::StatusOr<std::vector<Judgement>> Track::Take(const Lane& lane,
                                                   const v1::Event& event,
                                                   absl::Time now) {
  const absl::StatusOr<HistoryChange> change =
      history_.Apply(event, *lane.catalogue);
  if (!change.ok()) return change.status();
  agenda_.Refresh(history_, change->from, change->corrected, lane.site);
  const Asking asking{change->from, asked_until_, now};
  return RaisedNow(Judge(lane.site, history_, agenda_, asking));
}

bool Track::IsAbout(const Held& held, const Judgement& judgement) const {
  return held.arrival == history_.facts()[judgement.at].arrival &&
         held.rule == judgement.rule && held.due == judgement.due;
}

bool Track::Holds(const Judgement& judgement) const {
  return std::any_of(held_.begin(), held_.end(), [&](const Held& held) {
    return IsAbout(held, judgement) && held.truth >= judgement.truth;
  });
}

// As the service does: a reason is raised once, and once more where it was
// unknown and is now certain, or where it had fallen away.
std::vector<Judgement> Track::RaisedNow(std::vector<Judgement> judgements) {
  for (const Judgement& judgement : judgements) {
    if (judgement.raise || judgement.waits) continue;
    std::erase_if(held_,
                  [&](const Held& held) { return IsAbout(held, judgement); });
  }
  std::erase_if(judgements, [this](const Judgement& judgement) {
    return !judgement.raise || Holds(judgement);
  });
  for (const Judgement& judgement : judgements) {
    held_.push_back({history_.facts()[judgement.at].arrival, judgement.rule,
                     judgement.due, judgement.truth});
  }
  return judgements;
}

}  // namespace turnstone

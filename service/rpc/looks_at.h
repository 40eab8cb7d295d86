// What each answer shows of whom, for the audit. There is one for every answer
// that RunRead and RunChange give: a new one does not compile before somebody
// has decided.
#pragma once

#include <algorithm>
#include <vector>

#include "service/core/core.h"
#include "service/core/looks.h"
#include "turnstone/v1/audit.pb.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

using LookList = std::vector<Look>;

[[nodiscard]] LookList LooksAt(const v1::ListAlertsResponse& seen);
[[nodiscard]] LookList LooksAt(const v1::Alert& seen);
[[nodiscard]] LookList LooksAt(const v1::AlertExplanation& seen);
[[nodiscard]] LookList LooksAt(const v1::ParticipantView& seen);
[[nodiscard]] LookList LooksAt(const v1::ShadowPage& seen);
[[nodiscard]] LookList LooksAt(const v1::DueList& seen);
[[nodiscard]] LookList LooksAt(const v1::Outbox& seen);
[[nodiscard]] LookList LooksAt(const v1::Burden& seen);
[[nodiscard]] LookList LooksAt(const v1::Disclosures& seen);
[[nodiscard]] LookList LooksAt(const v1::Handover& seen);
// ExplainRule, FollowAlerts and ReadEvents.
[[nodiscard]] LookList LooksAt(const RuleAsked& explained);
[[nodiscard]] LookList LooksAt(const std::vector<v1::Alert>& followed);
[[nodiscard]] LookList LooksAt(const Core::EventPage& replayed);

// Nothing of any participant.
[[nodiscard]] inline LookList LooksAt(const v1::SubmitResponse&) { return {}; }
[[nodiscard]] inline LookList LooksAt(const v1::VersionList&) { return {}; }
[[nodiscard]] inline LookList LooksAt(const v1::VersionContent&) { return {}; }
[[nodiscard]] inline LookList LooksAt(const v1::RuleVersion&) { return {}; }
[[nodiscard]] inline LookList LooksAt(const v1::OnCall&) { return {}; }
[[nodiscard]] inline LookList LooksAt(const v1::Erasure&) { return {}; }
[[nodiscard]] inline LookList LooksAt(const v1::Clock&) { return {}; }

template <typename Seen>
void NoteLooks(const v1::Actor& by, const Seen& seen, Core& core) {
  // One answer may tell of the same participant many times, and is one look.
  LookList looks = LooksAt(seen);
  std::sort(looks.begin(), looks.end());
  looks.erase(std::unique(looks.begin(), looks.end()), looks.end());
  for (const Look& look : looks) core.NoteLook(by, look);
}

}  // namespace turnstone

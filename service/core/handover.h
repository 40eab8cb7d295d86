// One person on duty hands over to another. Pure.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <vector>

#include "rules/duty/rota.h"
#include "rules/engine/setup.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// What was taken over by people who are still there in that role: a duty given
// to somebody who has left falls back to whom the rota names.
[[nodiscard]] std::vector<Swap> SwapsOf(const v1::DutyRecord& duty,
                                        const Team& team);

// The offer that `by` makes. PERMISSION_DENIED if the role may not;
// FAILED_PRECONDITION if they are not on duty; INVALID_ARGUMENT, naming who
// could, if it is not offered to another of the role.
[[nodiscard]] absl::StatusOr<v1::HandoverOffer> MakeOffer(
    const v1::OfferHandoverRequest& request, const v1::Actor& by,
    const Site& site, const Rota& rota, const std::vector<Swap>& swaps,
    absl::Time now);

// `by` takes up the offer for the rota's role, or declines it. Either way it is
// gone; taken up, they are on duty in place of the other until that one's duty
// would have ended. Returns the offer. FAILED_PRECONDITION if there is no
// offer, it is not for them, or the other is no longer on duty; then nothing
// has changed.
[[nodiscard]] absl::StatusOr<v1::HandoverOffer> AnswerOffer(
    bool yes, const v1::Actor& by, const Site& site, const Rota& rota,
    absl::Time now, v1::DutyRecord& duty);

}  // namespace turnstone

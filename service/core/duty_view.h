// Duty and alerts as they are shown.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/duty/rota.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// Who of the rota is on duty at `at`, until when, and who is next.
[[nodiscard]] v1::Duty DutyAt(const Rota& rota, absl::Time at,
                              const std::vector<Swap>& swaps);

// By priority, then longest waiting, then number. REQUIRES: both set.
[[nodiscard]] bool MorePressing(const v1::Alert* a, const v1::Alert* b);

}  // namespace turnstone

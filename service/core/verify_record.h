// Looking over a whole store while no service has it: what it holds, and what
// can be made anew from the events.
#pragma once

#include <absl/status/status.h>

#include <string>

#include "service/store/store.h"
#include "service/store/verification.h"

namespace turnstone {

// VerifyFile, and then VerifyRecord where the file is sound and its schema
// today's. Errors as VerifyFile. Changes nothing but that a log left by a crash
// is merged.
[[nodiscard]] absl::Status VerifyFolder(const std::string& folder,
                                        Verification& verification);

// Loads every participant with the configuration in force. Their deadlines must
// be the ones on record (BrokeOnTime), and an alert must hold every reason
// there has been since the configuration came in force (BrokeRaises).
[[nodiscard]] absl::Status VerifyRecord(Store& store,
                                        Verification& verification);

}  // namespace turnstone

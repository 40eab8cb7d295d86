// Checkpoints of the audit: how far it had got at some time, signed. Who has
// the database, but neither the key nor the checkpoints kept elsewhere, cannot
// change what is before one without its showing, nor cut it off.
//
// A file of them has one JSON object a line:
//   {"sequence":12,"chain":"5f97...","at":"2027-01-04T10:00:00.000000Z",
//    "signature":"e141..."}
// (in one line). Signed are the line "turnstone audit checkpoint 1" and the
// first three values as they stand there, a line each.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <string>
#include <vector>

#include "service/store/audit_verifier.h"
#include "service/store/signature.h"
#include "service/store/store.h"

namespace turnstone {

// The line, with its newline. Errors as SigningKey::Sign.
[[nodiscard]] absl::StatusOr<std::string> CheckpointLine(const AuditTip& tip,
                                                         absl::Time at,
                                                         const SigningKey& key);

// Appends it to the file, made if missing and readable by this user only, and
// syncs both file and folder. A line that a crash has left half written is
// taken off first. UNAVAILABLE naming the file.
[[nodiscard]] absl::Status AppendCheckpoint(const std::string& path,
                                            const std::string& line);

// Has `verifier` expect what every line of `text` says. How many lines there
// are; INVALID_ARGUMENT naming the first line that is no checkpoint, is not
// signed by the key, or contradicts another. A last line without a newline is
// passed over: it was never finished.
[[nodiscard]] absl::StatusOr<int64_t> ReadCheckpoints(const std::string& text,
                                                      const PublicKey& key,
                                                      AuditVerifier& verifier);

}  // namespace turnstone

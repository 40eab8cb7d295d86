// "turnstoned audit-verify": whether the audit is as it was written.
#pragma once

#include <absl/status/statusor.h>

#include <string>

namespace turnstone {

struct AuditVerifyOptions {
  std::string data;         // the service's folder
  std::string checkpoints;  // a file of them; empty: none are at hand
  std::string key;          // the public key, in PEM
};

// Whether every record is as it was written, and the end is there as far as the
// checkpoints know; `said` then holds what was found, the first fault first.
// Changes nothing. Errors as VerifyFile, ReadFile and ReadCheckpoints.
[[nodiscard]] absl::StatusOr<bool> VerifyAuditOf(
    const AuditVerifyOptions& options, std::string& said);

}  // namespace turnstone

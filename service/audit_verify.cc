#include "service/audit_verify.h"

#include <absl/strings/str_cat.h>

#include "platform/files.h"
#include "service/store/audit_checkpoint.h"
#include "service/store/verify.h"

namespace turnstone {
namespace {

// How many there are.
absl::StatusOr<int64_t> ExpectCheckpoints(const AuditVerifyOptions& options,
                                          AuditVerifier& verifier) {
  const auto about = [](const std::string& path, const absl::Status& status) {
    return absl::Status(status.code(),
                        absl::StrCat(path, ": ", status.message()));
  };
  const absl::StatusOr<std::string> pem = ReadFile(options.key);
  if (!pem.ok()) return pem.status();
  const absl::StatusOr<PublicKey> key = PublicKey::FromPem(*pem);
  if (!key.ok()) return about(options.key, key.status());
  const absl::StatusOr<std::string> lines = ReadFile(options.checkpoints);
  if (!lines.ok()) return lines.status();
  absl::StatusOr<int64_t> count = ReadCheckpoints(*lines, *key, verifier);
  if (!count.ok()) return about(options.checkpoints, count.status());
  if (*count > 0) return count;
  return absl::InvalidArgumentError(
      absl::StrCat(options.checkpoints, " has no checkpoint in it"));
}

std::string Summary(const Looked& looked, int64_t checkpoints) {
  if (looked.wrong > 0) {
    return absl::StrCat(looked.wrong, " WRONG among ", looked.count,
                        " records; the first named above is where it begins");
  }
  return absl::StrCat(
      "records: ", looked.count, ", each as it was written",
      checkpoints > 0
          ? absl::StrCat("; signed checkpoints: ", checkpoints)
          : "; whether the end was cut off, or all of it written anew, only "
            "signed checkpoints tell: --checkpoints FILE --key PUBLIC.pem");
}

}  // namespace

absl::StatusOr<bool> VerifyAuditOf(const AuditVerifyOptions& options,
                                   std::string& said) {
  AuditVerifier verifier;
  int64_t checkpoints = 0;
  if (!options.checkpoints.empty()) {
    const absl::StatusOr<int64_t> count = ExpectCheckpoints(options, verifier);
    if (!count.ok()) return count.status();
    checkpoints = *count;
  }
  Verification verification(nullptr);
  absl::Status status = VerifyAuditAlone(options.data, verifier, verification);
  if (!status.ok()) return status;
  const Looked& looked = verification.looked().back();
  for (const Fault& fault : looked.faults) {
    absl::StrAppend(&said, fault.guarantee, " at ", fault.place, ": ",
                    fault.what, "\n");
  }
  absl::StrAppend(
      &said,
      looked.remark.empty() ? Summary(looked, checkpoints) : looked.remark,
      "\n");
  return verification.ok();
}

}  // namespace turnstone

#include <absl/strings/str_cat.h>

#include "service/store/audit_log.h"
#include "service/store/verify.h"

namespace turnstone {
namespace {

void Tell(const AuditFault& fault, Verification& verification) {
  verification.Add(
      {"BrokeAudit", absl::StrCat("audit ", fault.sequence),
       absl::StrCat(
           fault.what,
           ": keep a copy of the folder and of every backup and "
           "checkpoint; somebody may have changed what is on record")});
}

}  // namespace

absl::Status VerifyAudit(Database& db, AuditVerifier verifier,
                         Verification& verification) {
  verification.Begin("audit");
  absl::Status status = ForEachRow(
      db,
      absl::StrCat("SELECT ", kAuditColumns, " FROM audit ORDER BY sequence"),
      [&](const Statement& row) {
        verification.Count();
        const std::optional<AuditFault> fault =
            verifier.Look(ReadAuditRow(row), ReadChain(row));
        if (fault) Tell(*fault, verification);
      });
  if (!status.ok()) return status;
  for (const AuditFault& fault : verifier.End()) Tell(fault, verification);
  return absl::OkStatus();
}

}  // namespace turnstone

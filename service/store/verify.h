// Looking over a store's file and rows. What the rules say of them is for the
// core to look over.
#pragma once

#include <absl/status/status.h>

#include <functional>
#include <string>

#include "service/store/audit_verifier.h"
#include "service/store/sqlite_db.h"
#include "service/store/verification.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

using Digester = std::function<std::string(const v1::Configuration&)>;

// Opens the store in `folder` while no service has it (FAILED_PRECONDITION
// otherwise), changes nothing in it, and looks over the file and, if its schema
// is today's, every row; `digest` names a configuration. NOT_FOUND: there is no
// store. DATA_LOSS: it is too damaged to be read.
[[nodiscard]] absl::Status VerifyFile(const std::string& folder,
                                      const Digester& digest,
                                      Verification& verification);

// The rows alone. REQUIRES: the schema is today's.
[[nodiscard]] absl::Status VerifyRows(Database& db, const Digester& digest,
                                      Verification& verification);

// The one for alerts; see VerifyRows.
[[nodiscard]] absl::Status VerifyAlerts(Database& db,
                                        Verification& verification);

// The one for the audit, by `verifier`, which has looked at none yet.
[[nodiscard]] absl::Status VerifyAudit(Database& db, AuditVerifier verifier,
                                       Verification& verification);

// As VerifyFile, of the audit alone.
[[nodiscard]] absl::Status VerifyAuditAlone(const std::string& folder,
                                            const AuditVerifier& verifier,
                                            Verification& verification);

// Has `look` see every row of `sql`.
[[nodiscard]] absl::Status ForEachRow(
    Database& db, const std::string& sql,
    const std::function<void(const Statement& row)>& look);

}  // namespace turnstone

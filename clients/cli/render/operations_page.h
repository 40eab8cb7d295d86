// Backups and erasures, for people.
#pragma once

#include <string>

#include "turnstone/v1/operations.pb.h"

namespace turnstone::cli {

[[nodiscard]] std::string BackupPage(const v1::Backup& backup);
[[nodiscard]] std::string ErasurePage(const v1::Erasure& erasure);

}  // namespace turnstone::cli

// Who looked at a participant.
#pragma once

#include <string>

#include "turnstone/v1/audit.pb.h"

namespace turnstone::cli {

[[nodiscard]] std::string DisclosuresPage(const v1::Disclosures& disclosures);

}  // namespace turnstone::cli

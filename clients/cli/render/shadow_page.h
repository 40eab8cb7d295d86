// What a version in shadow would have raised, for people.
#pragma once

#include <string>

#include "turnstone/v1/version.pb.h"

namespace turnstone::cli {

// What both raised, what only the one in shadow would have, and what only the
// one in force has.
[[nodiscard]] std::string ShadowPageText(const v1::ShadowPage& page);

}  // namespace turnstone::cli

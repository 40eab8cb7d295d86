// Versions of the rules, for people.
#pragma once

#include <string>

#include "turnstone/v1/version.pb.h"

namespace turnstone::cli {

// The first characters of a digest: enough to say which.
[[nodiscard]] std::string ShortDigest(const std::string& digest);

// Every version, and what happened to it.
[[nodiscard]] std::string VersionsPage(const v1::VersionList& list);

// What became of one that somebody put in force or confirmed, and what is to be
// done next.
[[nodiscard]] std::string ActivatedText(const v1::RuleVersion& version);

// What became of one that was put in shadow, or taken out of it.
[[nodiscard]] std::string ShadowedText(const v1::RuleVersion& version);

}  // namespace turnstone::cli

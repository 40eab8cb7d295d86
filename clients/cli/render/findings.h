// What is wrong with a configuration, beside the lines it is about.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "rules/check/load.h"

namespace turnstone::cli {

// "path:line:column: message", the line itself with a mark below the column,
// and "do this: advice"; `with_help`: then where to read more. `files` is text
// by path.
[[nodiscard]] std::string FindingText(
    const Finding& finding, const std::map<std::string, std::string>& files,
    bool with_help);

// One JSON object with path, line, column, message, advice and id.
[[nodiscard]] std::string FindingJson(const Finding& finding);

// All of them, in order: as FindingText, with help for the first of each id, or
// one JSON object a line.
[[nodiscard]] std::string FindingsText(
    const std::vector<Finding>& findings,
    const std::map<std::string, std::string>& files, bool json);

}  // namespace turnstone::cli

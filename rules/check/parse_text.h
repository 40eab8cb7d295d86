// Protobuf text format, read strictly: every slip is reported with its place.
#pragma once

#include <google/protobuf/text_format.h>

#include <memory>
#include <string>
#include <vector>

#include "rules/check/load.h"

namespace turnstone {

// Fills `message` and returns where each field stands. On any error: null, at
// least one finding added, and `message` is not to be used. Pure.
[[nodiscard]] std::unique_ptr<google::protobuf::TextFormat::ParseInfoTree>
ParseText(const std::string& path, const std::string& text,
          google::protobuf::Message& message, std::vector<Finding>& findings);

}  // namespace turnstone

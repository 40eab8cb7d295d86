// JSON held against a message type, key by key.
#pragma once

#include <absl/status/status.h>
#include <google/protobuf/descriptor.h>

#include <string>

namespace turnstone::cli {

// OK, or INVALID_ARGUMENT for the first thing in `json` that `type` does not
// have or that could be misread; see strict_json.h. Pure.
[[nodiscard]] absl::Status CheckStrictJson(
    const std::string& json, const google::protobuf::Descriptor& type);

}  // namespace turnstone::cli

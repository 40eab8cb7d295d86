// A message as one line of JSON, for programs.
#pragma once

#include <google/protobuf/message.h>

#include <string>

namespace turnstone::cli {

// In protobuf's JSON mapping, ended by a newline.
[[nodiscard]] std::string JsonLine(const google::protobuf::Message& message);

}  // namespace turnstone::cli

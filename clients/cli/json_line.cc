#include "clients/cli/json_line.h"

#include <google/protobuf/util/json_util.h>

namespace turnstone::cli {

std::string JsonLine(const google::protobuf::Message& message) {
  std::string json;
  // Only Any and out-of-range times can fail; our messages hold neither.
  if (!google::protobuf::util::MessageToJsonString(message, &json).ok()) {
    return "{\"error\":\"a message could not be written as JSON\"}\n";
  }
  return json + "\n";
}

}  // namespace turnstone::cli

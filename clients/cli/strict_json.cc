#include "clients/cli/strict_json.h"

#include <absl/strings/str_cat.h>
#include <google/protobuf/util/json_util.h>

#include "clients/cli/read_line.h"
#include "clients/cli/strict_reader.h"

namespace turnstone::cli {

absl::StatusOr<v1::Event> ParseEventLine(const std::string& line) {
  if (line.size() > kLongestLine) {
    return absl::InvalidArgumentError(
        "the line is longer than 256 KiB; write one event on a line");
  }
  const absl::Status strict = CheckStrictJson(line, *v1::Event::descriptor());
  if (!strict.ok()) return strict;
  v1::Event event;
  if (!google::protobuf::util::JsonStringToMessage(line, &event).ok()) {
    return absl::InvalidArgumentError(
        "not an event; write one as service.proto describes it");
  }
  return event;
}

}  // namespace turnstone::cli

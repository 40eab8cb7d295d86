// One line of JSON to one event, refusing all that could be misread.
#pragma once

#include <absl/status/statusor.h>

#include <string>

#include "turnstone/v1/event.pb.h"

namespace turnstone::cli {

// `line` is the protobuf JSON mapping of Event, lowerCamelCase. Stricter than
// the mapping: no null, no key twice, no unknown key, no number in quotes, no
// enum by number, no NaN, at most 32 levels and 256 KiB. INVALID_ARGUMENT names
// the key and says what to write, but never repeats a value.
[[nodiscard]] absl::StatusOr<v1::Event> ParseEventLine(const std::string& line);

}  // namespace turnstone::cli

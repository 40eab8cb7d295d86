// A scenario as a clinician reads it: what happens, line by line, and below it,
// behind "| ", what the service is then to answer. GRAMMAR.md says what the
// lines may be.
#pragma once

#include <absl/status/statusor.h>

#include <string>
#include <vector>

namespace turnstone::scenarios {

// One thing that happens.
struct Step {
  int line = 0;  // from 1
  std::string text;
  std::vector<std::string> expected;
};

// INVALID_ARGUMENT, naming the line, if `text` does not begin with a comment
// that says what the situation is, has an answer with nothing before it, or
// nothing at all happens.
[[nodiscard]] absl::StatusOr<std::vector<Step>> ParseScript(
    const std::string& text);

}  // namespace turnstone::scenarios

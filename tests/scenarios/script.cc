#include "tests/scenarios/script.h"

#include <absl/strings/ascii.h>
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <string>
#include <vector>

namespace turnstone::scenarios {
namespace {

// The library's regular expressions take a frame of the stack for each
// character: a line without end would overflow it.
constexpr size_t kLongestLine = 400;

absl::Status Wrong(int line, const std::string& what) {
  return absl::InvalidArgumentError(absl::StrCat("line ", line, ": ", what));
}

}  // namespace

absl::StatusOr<std::vector<Step>> ParseScript(const std::string& text) {
  if (!absl::StartsWith(text, "# ")) {
    return Wrong(1, "begin with a comment that says what the situation is");
  }
  std::vector<Step> steps;
  const std::vector<std::string> lines = absl::StrSplit(text, '\n');
  for (size_t i = 0; i < lines.size(); ++i) {
    const int number = static_cast<int>(i) + 1;
    const std::string line(absl::StripAsciiWhitespace(lines[i]));
    if (line.empty() || line[0] == '#') continue;
    if (line.size() > kLongestLine) {
      return Wrong(number, "longer than 400 characters; say it in fewer");
    }
    if (line[0] != '|') {
      steps.push_back({number, line, {}});
    } else if (steps.empty()) {
      return Wrong(number, "an answer, but nothing has happened yet");
    } else {
      // What is indented within the answer stays so.
      steps.back().expected.push_back(
          absl::StartsWith(line, "| ") ? line.substr(2) : line.substr(1));
    }
  }
  if (steps.empty()) return Wrong(1, "nothing happens");
  return steps;
}

}  // namespace turnstone::scenarios

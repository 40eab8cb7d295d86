#include "clients/cli/measure_input.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_split.h>
#include <absl/strings/strip.h>

#include <utility>

#include "clients/cli/form_table.h"
#include "clients/cli/strict_json.h"

namespace turnstone::cli {
namespace {

MeasureInput ReadEventLines(const std::string& text) {
  MeasureInput input;
  int number = 0;
  for (const absl::string_view line : absl::StrSplit(text, '\n')) {
    ++number;
    if (absl::StripAsciiWhitespace(line).empty()) continue;
    absl::StatusOr<v1::Event> event = ParseEventLine(std::string(line));
    if (event.ok()) {
      input.events.push_back({number, *std::move(event)});
    } else {
      input.refused.push_back({number, std::string(event.status().message())});
    }
  }
  return input;
}

}  // namespace

MeasureInput ReadMeasureInput(const std::string& text,
                              const Catalogue& catalogue, absl::TimeZone zone) {
  // Spreadsheets begin a file with a byte order mark.
  const std::string plain(absl::StripPrefix(text, "\xef\xbb\xbf"));
  const auto start = absl::StripLeadingAsciiWhitespace(plain);
  if (!start.empty() && start.front() == '{') return ReadEventLines(plain);
  return ReadFormTable(plain, catalogue, zone);
}

}  // namespace turnstone::cli

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <fstream>
#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/read_line.h"
#include "clients/cli/strict_json.h"
#include "clients/cli/submit_batch.h"
#include "clients/cli/submit_report.h"

namespace turnstone::cli {
namespace {

// Reads input line by line and counts.
class LineReader {
 public:
  explicit LineReader(std::istream& in) : in_(in) {}

  // The next lines that are not blank: at most kBatch, and no more than are
  // waiting, so that a slow writer at the other end of a pipe gets its answers
  // line by line. Empty at the end.
  std::vector<InputLine> NextBatch() {
    std::vector<InputLine> lines;
    std::string text;
    while (lines.size() < kBatch &&
           (lines.empty() || in_.rdbuf()->in_avail() > 0) &&
           ReadLine(in_, text)) {
      ++number_;
      if (absl::StripAsciiWhitespace(text).empty()) continue;
      lines.push_back(ToLine(text));
    }
    return lines;
  }

 private:
  [[nodiscard]] InputLine ToLine(const std::string& text) const {
    InputLine line;
    line.number = number_;
    absl::StatusOr<v1::Event> event = ParseEventLine(text);
    if (event.ok()) {
      line.event = *std::move(event);
    } else {
      line.state = LineState::kRefused;
      line.reason = std::string(event.status().message());
    }
    return line;
  }

  std::istream& in_;
  int number_ = 0;
};

ExitCode SubmitAll(const Console& console, const Settings& settings,
                   const Connection& connection, std::istream& in) {
  LineReader reader(in);
  SubmitReport report(console, settings.json);
  absl::Status status;
  while (status.ok()) {
    std::vector<InputLine> lines = reader.NextBatch();
    if (lines.empty()) break;
    status = SendBatch(connection, console.sleeper, lines);
    report.Add(lines);
  }
  report.Finish(status);
  if (!status.ok()) return Report(console, status);
  if (in.bad()) {
    return ReportUsage(console, absl::InvalidArgumentError(
                                    "the input could not be read to its end"));
  }
  return report.refused() == 0 ? ExitCode::kDone : ExitCode::kRefused;
}

ExitCode Submit(const Console& console, const Settings& settings,
                const Connection& connection, const std::string& path) {
  if (path == "-") {
    return SubmitAll(console, settings, connection, console.in);
  }
  std::ifstream file(path);
  // A folder opens, but cannot be read.
  if (!file || (file.peek(), file.bad())) {
    return ReportUsage(
        console, absl::InvalidArgumentError(absl::StrCat(
                     "cannot read ", path,
                     "; write the name of a file with one event on each line, "
                     "or - for\nstandard input")));
  }
  file.clear();
  return SubmitAll(console, settings, connection, file);
}

}  // namespace

void AddSubmit(CLI::App& app, Command& chosen) {
  auto* command =
      app.add_subcommand("submit", "send events, one JSON object on each line");
  auto path = std::make_shared<std::string>();
  command->add_option("FILE", *path, "the file to send; - is standard input")
      ->required();
  command->footer(
      "Lines are in protobuf's JSON mapping of an event. A line that cannot be "
      "read is\nrefused with its number and the reason; the others go through. "
      "Sending a file\nagain is safe: an event has one effect however often it "
      "is sent.");
  command->callback([path, &chosen] {
    chosen = Online([path](const Console& console, const Settings& settings,
                           Connection& connection) {
      return Submit(console, settings, connection, *path);
    });
  });
}

}  // namespace turnstone::cli

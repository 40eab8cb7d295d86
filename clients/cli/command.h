// What a command gets to work with, and what it answers.
#pragma once

#include <absl/time/clock.h>

#include <functional>
#include <istream>
#include <optional>
#include <ostream>
#include <string>

#include "clients/cli/connection.h"
#include "clients/cli/exit_code.h"
#include "clients/cli/sleeper.h"
#include "clients/cli/window.h"

namespace turnstone::cli {

// The program's surroundings. Results go to `out`; everything said about the
// work itself goes to `err`.
struct Console {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  bool err_is_terminal;
  Sleeper& sleeper;
  // None if `out` is no terminal. Asked for every drawing: windows change.
  std::function<std::optional<Window>()> window = [] { return std::nullopt; };
  // The real time, for what is looked at without the service.
  std::function<absl::Time()> now = absl::Now;
};

// Options that belong to every command.
struct Settings {
  std::string server = "127.0.0.1:7411";
  // "NAME,ROLE"; may be empty beside a certificate.
  std::string as;
  WayOut way;
  bool json = false;
};

using Command =
    std::function<ExitCode(const Console& console, const Settings& settings)>;

// A command that talks to the service.
using OnlineCommand = std::function<ExitCode(
    const Console& console, const Settings& settings, Connection& connection)>;

// Opens the connection first; kUsage, saying what to write, if it cannot.
[[nodiscard]] Command Online(OnlineCommand command);

// Says on `err` why a call failed and, where the result is not known, what to
// do about it. Returns the exit code.
ExitCode Report(const Console& console, const absl::Status& status,
                const std::string& advice = kRepeatIsSafe);

// Says on `err` what is wrong with the way the command was written.
ExitCode ReportUsage(const Console& console, const absl::Status& status);

}  // namespace turnstone::cli

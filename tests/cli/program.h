// The program in a test: arguments in, text and exit code out.
#pragma once

#include <absl/time/time.h>

#include <functional>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "clients/cli/run.h"

namespace turnstone::cli {

// Writes pauses down instead of making them.
class FakeSleeper final : public Sleeper {
 public:
  void Sleep(absl::Duration pause) override {
    pauses.push_back(pause);
    if (on_sleep) on_sleep();
  }
  void Wake() override {
    if (on_wake) on_wake();
  }

  std::vector<absl::Duration> pauses;
  std::function<void()> on_sleep;
  std::function<void()> on_wake;
};

// What the program said, and how it ended.
struct Outcome {
  int code = -1;
  std::string out;
  std::string err;
};

struct Program {
  std::string server;
  std::string input;
  FakeSleeper sleeper;
  bool terminal = false;
  // None: the output is no terminal.
  std::optional<Window> window;
  absl::Time now = absl::UnixEpoch();

  Outcome Run(std::vector<std::string> arguments) {
    arguments.insert(arguments.end(), {"--as", "r.sorrel,clinician"});
    if (!server.empty()) {
      arguments.insert(arguments.end(), {"--server", server});
    }
    return RunAsWritten(arguments);
  }

  Outcome RunAsWritten(const std::vector<std::string>& arguments) {
    // As if every command said --plain: the fake service is on this machine.
    setenv("TURNSTONE_PLAIN", "1", /*overwrite=*/0);
    std::istringstream in(input);
    std::ostringstream out;
    std::ostringstream err;
    const int code =
        cli::Run(arguments, Console{.in = in,
                                    .out = out,
                                    .err = err,
                                    .err_is_terminal = terminal,
                                    .sleeper = sleeper,
                                    .window = [this] { return window; },
                                    .now = [this] { return now; }});
    return {code, out.str(), err.str()};
  }
};

}  // namespace turnstone::cli

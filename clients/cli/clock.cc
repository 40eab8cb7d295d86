#include <memory>

#include "clients/cli/commands.h"
#include "clients/cli/duration.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/time.h"

namespace turnstone::cli {
namespace {

// Repeating would move the clock twice.
constexpr char kLookFirst[] =
    "The result is not known. Look before you repeat it: turnstone clock";

ExitCode Show(const Console& console, const Settings& settings,
              const v1::Clock& clock) {
  if (settings.json) {
    console.out << JsonLine(clock);
  } else {
    console.out << DateTime(clock.now(), absl::UTCTimeZone())
                << (clock.simulated() ? ", a simulated clock\n" : "\n");
  }
  return ExitCode::kDone;
}

ExitCode ShowClock(const Console& console, const Settings& settings,
                   const Connection& connection) {
  const auto clock =
      connection.Call(*connection.clock, &v1::ClockService::Stub::GetClock,
                      v1::GetClockRequest());
  if (!clock.ok()) return Report(console, clock.status());
  return Show(console, settings, *clock);
}

ExitCode AdvanceClock(const Console& console, const Settings& settings,
                      const Connection& connection, const std::string& by) {
  const auto duration = ParseDuration(by);
  if (!duration.ok()) return ReportUsage(console, duration.status());
  v1::AdvanceClockRequest request;
  request.mutable_by()->set_seconds(absl::ToInt64Seconds(*duration));
  // A long way takes a while: everything that falls due on it is done.
  const auto clock =
      connection.Call(*connection.clock, &v1::ClockService::Stub::AdvanceClock,
                      request, absl::Minutes(10));
  if (!clock.ok()) return Report(console, clock.status(), kLookFirst);
  return Show(console, settings, *clock);
}

}  // namespace

void AddClock(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand("clock", "the service's time");
  command->require_subcommand(0, 1);
  command->add_subcommand("show", "show it, as without a further word");
  auto* advance = command->add_subcommand(
      "advance", "move a simulated clock forward and do what falls due");
  auto by = std::make_shared<std::string>();
  advance->add_option("BY", *by, "e.g. 26h, 3d, 90m or 1d6h")->required();
  command->callback([advance, by, &chosen] {
    if (!advance->parsed()) {
      chosen = Online(ShowClock);
      return;
    }
    chosen = Online([by](const Console& console, const Settings& settings,
                         const Connection& connection) {
      return AdvanceClock(console, settings, connection, *by);
    });
  });
}

}  // namespace turnstone::cli

#include "clients/cli/command.h"

#include <utility>

#include "clients/cli/render/clean.h"

namespace turnstone::cli {

Command Online(OnlineCommand command) {
  return [command = std::move(command)](const Console& console,
                                        const Settings& settings) {
    absl::StatusOr<Connection> connection =
        Connection::Open(settings.server, settings.as, settings.way);
    if (!connection.ok()) return ReportUsage(console, connection.status());
    return command(console, settings, *connection);
  };
}

ExitCode Report(const Console& console, const absl::Status& status,
                const std::string& advice) {
  const ExitCode code = ExitCodeFor(status);
  const std::string message = CleanBlock(std::string(status.message()));
  if (code == ExitCode::kUnknown) {
    console.err << "turnstone: no answer from the service: " << message << "\n"
                << advice << "\n";
  } else {
    console.err << "turnstone: refused: " << message << "\n";
  }
  return code;
}

ExitCode ReportUsage(const Console& console, const absl::Status& status) {
  console.err << "turnstone: " << CleanBlock(std::string(status.message()))
              << "\n";
  return ExitCode::kUsage;
}

}  // namespace turnstone::cli

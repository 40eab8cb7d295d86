// The server's command line.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <optional>
#include <string>
#include <vector>

#include "service/rpc/tls.h"

namespace turnstone {

struct ServerOptions {
  // Folders with instruments/, packs/ and sites/, taken together.
  std::vector<std::string> config;
  std::string data;  // folder that holds the store
  std::string listen = "127.0.0.1:7411";
  // Nothing is encrypted, and callers merely state who they are.
  bool plain = false;
  // Otherwise.
  TlsFiles tls;
  bool simulated_clock = false;
  // First start of a simulated clock; later starts go on from the store.
  std::optional<absl::Time> start;
  // Folder with the secrets of the channels; may be empty.
  std::string credentials;
  // Folder for backups; empty: none can be made.
  std::string backups;
  // Folder for signed checkpoints of the audit; empty: none are written.
  std::string checkpoints;
  // ADDRESS:PORT where a Prometheus server may fetch figures; may be empty.
  std::string metrics;
  // Messages really go out.
  bool send = true;
};

// INVALID_ARGUMENT, with the usage or what to write instead. On a request for
// help: OUT_OF_RANGE with the help text.
[[nodiscard]] absl::StatusOr<ServerOptions> ParseOptions(int argc,
                                                         const char** argv);

// INVALID_ARGUMENT unless `address` names the loopback interface: where nothing
// is encrypted, nobody else may reach the service.
[[nodiscard]] absl::Status CheckLoopback(const std::string& option,
                                         const std::string& address);

}  // namespace turnstone

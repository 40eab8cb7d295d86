// The encrypted way in: the service shows its certificate and asks for the
// caller's.
#pragma once

#include <absl/status/statusor.h>
#include <grpcpp/security/server_credentials.h>

#include <memory>
#include <string>

namespace turnstone {

// Paths of PEM files.
struct TlsFiles {
  std::string certificate;  // the service's, then those above it
  std::string key;          // the service's, not encrypted; may be the same
  std::string client_ca;    // whose certificates callers must have
};

// TLS 1.2 or later; no call without a certificate of `client_ca`. The files are
// looked at again every second: new connections go by what they hold then,
// those that stand go on. Replace them by a rename; with certificate and key in
// one file, both change at once and no caller is turned away meanwhile.
// INVALID_ARGUMENT, naming the file, unless they can be used now.
[[nodiscard]] absl::StatusOr<std::shared_ptr<grpc::ServerCredentials>>
EncryptedWayIn(const TlsFiles& files);

}  // namespace turnstone

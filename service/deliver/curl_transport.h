// The real way out: e-mail and webhooks, by libcurl.
#pragma once

#include <absl/time/time.h>

#include <utility>

#include "service/deliver/credentials.h"
#include "service/deliver/transport.h"

namespace turnstone {

struct CurlOptions {
  absl::Duration connect_timeout = absl::Seconds(10);
  // From the look-up of the name to the answer. A mail server that falls
  // silent costs it twice: libcurl says QUIT and waits again.
  absl::Duration whole_timeout = absl::Seconds(30);
};

// Thread-safe; each Send has a connection of its own. Always encrypted, TLS
// 1.2 or newer, with the server's certificate verified. Follows no redirect
// and uses no proxy. Secrets are read anew for each Send.
//
// Beyond what Transport says of INVALID_ARGUMENT:
// - E-mail: a 5xx answer to the sender, the recipient or the text, other than
//   530, 534, 535 and 538, which are about the login.
// - Webhook: 400, 410, 413, 415 and 422.
// - No channel at all: it, or the person, has left the configuration.
// FAILED_PRECONDITION: the channel itself must be mended first, e.g. a
// secret's file is missing. UNAVAILABLE: everything else.
class CurlTransport final : public Transport {
 public:
  explicit CurlTransport(Credentials credentials, CurlOptions options = {});
  [[nodiscard]] absl::Status Send(const Envelope& envelope) override;

 private:
  const Credentials credentials_;
  const CurlOptions options_;
};

}  // namespace turnstone

// One signed POST to one receiver.
#pragma once

#include <absl/status/status.h>

#include "service/deliver/curl_transport.h"

namespace turnstone {

// As CurlTransport::Send. REQUIRES: channel.by is webhook.
[[nodiscard]] absl::Status PostWebhook(const Envelope& envelope,
                                       const Credentials& credentials,
                                       const CurlOptions& options);

}  // namespace turnstone

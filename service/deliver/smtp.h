// One e-mail, handed to one server.
#pragma once

#include <absl/status/status.h>

#include "service/deliver/curl_transport.h"

namespace turnstone {

// As CurlTransport::Send. REQUIRES: channel.by is smtp.
[[nodiscard]] absl::Status SendMail(const Envelope& envelope,
                                    const Credentials& credentials,
                                    const CurlOptions& options);

}  // namespace turnstone

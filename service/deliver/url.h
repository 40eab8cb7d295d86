// Where a channel leads, checked and written as libcurl will use it. Pure.
#pragma once

#include <absl/status/statusor.h>

#include <string>

namespace turnstone {

// "smtp://mail.example.org:587". FAILED_PRECONDITION with what to write.
[[nodiscard]] absl::StatusOr<std::string> SmtpUrl(const std::string& host,
                                                  int port);

// `url` as the receiver will see it: with a path, without a fragment and
// without the port that is https's own. FAILED_PRECONDITION unless it is
// absolute, begins with "https://" and has no user in it.
[[nodiscard]] absl::StatusOr<std::string> WebhookUrl(const std::string& url);

}  // namespace turnstone

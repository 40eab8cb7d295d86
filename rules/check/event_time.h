// Times in events.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>
#include <google/protobuf/timestamp.pb.h>

#include <string>

namespace turnstone {

// A timestamp that exists: years 1 to 9999, nanoseconds below a second.
[[nodiscard]] absl::Status CheckStamp(const std::string& field,
                                      const google::protobuf::Timestamp& stamp);

// The same, and from the year 2000 on, at most five minutes after `now`.
[[nodiscard]] absl::Status CheckHappened(
    const std::string& field, const google::protobuf::Timestamp& stamp,
    absl::Time now);

}  // namespace turnstone

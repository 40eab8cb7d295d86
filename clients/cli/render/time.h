// Times and ages as people say them.
#pragma once

#include <absl/time/time.h>
#include <google/protobuf/timestamp.pb.h>

#include <string>

namespace turnstone::cli {

// The zone of that IANA name; UTC if there is none.
[[nodiscard]] absl::TimeZone Zone(const std::string& name);

// "Wed 3 Mar 2027 14:05 GMT", with the abbreviation in force at that moment.
[[nodiscard]] std::string DateTime(absl::Time time, absl::TimeZone zone);
[[nodiscard]] std::string DateTime(const google::protobuf::Timestamp& time,
                                   absl::TimeZone zone);

// "Wed 3 Mar 2027".
[[nodiscard]] std::string Day(absl::Time time, absl::TimeZone zone);

// "3 Mar 2027".
[[nodiscard]] std::string Date(absl::Time time, absl::TimeZone zone);

// "2 h 10 min", "3 d 4 h", "under 1 min"; never negative.
[[nodiscard]] std::string Age(absl::Duration age);

// The same of what is still to pass; "due now" if that is nothing.
[[nodiscard]] std::string TimeLeft(absl::Duration left);

}  // namespace turnstone::cli

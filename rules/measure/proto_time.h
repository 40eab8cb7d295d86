// Between absl::Time and protobuf's Timestamp.
#pragma once

#include <absl/time/time.h>
#include <google/protobuf/timestamp.pb.h>

namespace turnstone {

inline absl::Time FromProto(const google::protobuf::Timestamp& stamp) {
  return absl::FromUnixSeconds(stamp.seconds()) +
         absl::Nanoseconds(stamp.nanos());
}

// Truncates to microseconds, the store's resolution.
inline google::protobuf::Timestamp ToProto(absl::Time time) {
  const int64_t micros = absl::ToUnixMicros(time);
  const int64_t seconds = absl::ToUnixSeconds(time);
  google::protobuf::Timestamp stamp;
  stamp.set_seconds(seconds);
  stamp.set_nanos(static_cast<int>((micros - seconds * 1000000) * 1000));
  return stamp;
}

}  // namespace turnstone

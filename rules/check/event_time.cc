#include "rules/check/event_time.h"

#include <google/protobuf/util/time_util.h>

#include "rules/check/field_error.h"
#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

using google::protobuf::util::TimeUtil;

constexpr absl::Duration kClocksMayDiffer = absl::Minutes(5);

}  // namespace

absl::Status CheckStamp(const std::string& field,
                        const google::protobuf::Timestamp& stamp) {
  if (stamp.seconds() >= TimeUtil::kTimestampMinSeconds &&
      stamp.seconds() <= TimeUtil::kTimestampMaxSeconds && stamp.nanos() >= 0 &&
      stamp.nanos() < 1000000000) {
    return absl::OkStatus();
  }
  return FieldError(field, "is not a valid timestamp",
                    "seconds for a year from 1 to 9999 and nanos from 0 to "
                    "999999999");
}

absl::Status CheckHappened(const std::string& field,
                           const google::protobuf::Timestamp& stamp,
                           absl::Time now) {
  absl::Status valid = CheckStamp(field, stamp);
  if (!valid.ok()) return valid;
  const absl::Time time = FromProto(stamp);
  if (time < absl::FromCivil(absl::CivilYear(2000), absl::UTCTimeZone())) {
    return FieldError(field, "is before the year 2000",
                      "when it happened, from the year 2000 on");
  }
  if (time > now + kClocksMayDiffer) {
    return FieldError(field,
                      "is more than five minutes ahead of the service's clock",
                      "when it happened, and compare the sender's clock with "
                      "the service's");
  }
  return absl::OkStatus();
}

}  // namespace turnstone

#include "clients/cli/render/time.h"

#include <absl/strings/str_cat.h>

#include "rules/measure/proto_time.h"

namespace turnstone::cli {

absl::TimeZone Zone(const std::string& name) {
  absl::TimeZone zone = absl::UTCTimeZone();
  if (!absl::LoadTimeZone(name, &zone)) return absl::UTCTimeZone();
  return zone;
}

std::string DateTime(absl::Time time, absl::TimeZone zone) {
  return absl::StrCat(Day(time, zone),
                      absl::FormatTime(" %H:%M %Z", time, zone));
}

std::string DateTime(const google::protobuf::Timestamp& time,
                     absl::TimeZone zone) {
  return DateTime(FromProto(time), zone);
}

std::string Day(absl::Time time, absl::TimeZone zone) {
  return absl::StrCat(absl::FormatTime("%a ", time, zone), Date(time, zone));
}

std::string Date(absl::Time time, absl::TimeZone zone) {
  return absl::StrCat(absl::ToCivilDay(time, zone).day(),
                      absl::FormatTime(" %b %Y", time, zone));
}

std::string TimeLeft(absl::Duration left) {
  return left > absl::ZeroDuration() ? Age(left) : "due now";
}

std::string Age(absl::Duration age) {
  const int64_t minutes = absl::ToInt64Minutes(age);
  if (minutes < 1) return "under 1 min";
  if (minutes < 60) return absl::StrCat(minutes, " min");
  const int64_t hours = minutes / 60;
  if (hours < 24) return absl::StrCat(hours, " h ", minutes % 60, " min");
  return absl::StrCat(hours / 24, " d ", hours % 24, " h");
}

}  // namespace turnstone::cli

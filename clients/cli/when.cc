#include "clients/cli/when.h"

#include <absl/strings/str_cat.h>
#include <absl/time/civil_time.h>

#include <regex>

#include "clients/cli/duration.h"

namespace turnstone::cli {
namespace {

absl::Status Wrong(const std::string& option, const std::string& what,
                   const std::string& advice) {
  return absl::InvalidArgumentError(
      absl::StrCat(option, " ", what, ";\nwrite ", advice));
}

// absl alone would also take "infinite-future" and years of any length.
bool LooksLikeRfc3339(const std::string& text) {
  static const std::regex pattern(
      R"(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,9})?(Z|[+-]\d{2}:\d{2}))");
  return std::regex_match(text, pattern);
}

bool LooksLocal(const std::string& text) {
  static const std::regex pattern(R"(\d{4}-\d{2}-\d{2} \d{2}:\d{2})");
  return std::regex_match(text, pattern);
}

absl::StatusOr<absl::Time> ParseLocal(const std::string& option,
                                      const absl::CivilSecond& local,
                                      absl::TimeZone zone) {
  const absl::TimeZone::TimeInfo info = zone.At(local);
  const auto with_offset = [zone](absl::Time time) {
    return absl::FormatTime(absl::RFC3339_sec, time, zone);
  };
  switch (info.kind) {
    case absl::TimeZone::TimeInfo::UNIQUE:
      return info.pre;
    case absl::TimeZone::TimeInfo::SKIPPED:
      return Wrong(option, "does not come: the clocks go forward over it",
                   with_offset(info.pre));
    case absl::TimeZone::TimeInfo::REPEATED:
      break;
  }
  return Wrong(
      option, "comes twice: the clocks go back over it",
      absl::StrCat(with_offset(info.pre), " or ", with_offset(info.post)));
}

}  // namespace

absl::StatusOr<absl::Time> ParseWhen(
    const std::string& option, const std::string& text, absl::Time now,
    const std::optional<absl::TimeZone>& zone) {
  absl::Time time;
  std::string ignored;
  if (LooksLikeRfc3339(text) &&
      absl::ParseTime(absl::RFC3339_full, text, &time, &ignored)) {
    return time;
  }
  const auto span = ParseDuration(text);
  if (span.ok()) return now + *span;
  absl::CivilSecond local;
  if (zone.has_value() && LooksLocal(text) &&
      absl::ParseCivilTime(
          absl::StrCat(text.substr(0, 10), "T", text.substr(11), ":00"),
          &local)) {
    return ParseLocal(option, local, *zone);
  }
  return Wrong(option, "is not a time",
               absl::StrCat("a moment such as 2027-02-06T09:00:00Z",
                            zone.has_value() ? ", the site's own time such as\n"
                                               "\"2027-02-06 09:00\""
                                             : "",
                            ", or how long from now, such as 26h or 3d"));
}

}  // namespace turnstone::cli

#include "clients/cli/render/burden_chart.h"

#include <absl/strings/str_cat.h>
#include <absl/time/civil_time.h>

#include <algorithm>
#include <map>

#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"

namespace turnstone::cli {
namespace {

constexpr int kDaysMax = 62;
constexpr int kLongestBar = 48;

absl::CivilDay MondayOf(absl::CivilDay day) {
  return absl::PrevWeekday(day + 1, absl::Weekday::monday);
}

// A single alert must be seen, however many another day has.
std::string Bar(int alerts, int most) {
  const int scale = std::max(most, kLongestBar);
  return std::string(
      static_cast<size_t>((alerts * kLongestBar + scale - 1) / scale), '#');
}

}  // namespace

std::string BurdenChart(const v1::Burden& burden) {
  const bool weekly = burden.by_day_size() > kDaysMax;
  std::map<absl::CivilDay, int> bars;
  int most = 0;
  for (const v1::DayLoad& load : burden.by_day()) {
    absl::CivilDay day;
    if (!absl::ParseCivilTime(load.day(), &day)) continue;
    int& alerts = bars[weekly ? MondayOf(day) : day];
    alerts += load.alerts();
    most = std::max(most, alerts);
  }
  const absl::TimeZone utc = absl::UTCTimeZone();
  Table table({weekly ? "WEEK FROM" : "DAY", "ALERTS", ""});
  for (const auto& [day, alerts] : bars) {
    table.Add({Day(absl::FromCivil(day, utc), utc), absl::StrCat(alerts),
               Bar(alerts, most)});
  }
  return table.ToString(2);
}

}  // namespace turnstone::cli

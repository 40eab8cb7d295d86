#include "clients/cli/render/replay_burden.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <map>

#include "clients/cli/render/page.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

constexpr int kLongestWeek = 40;

// A single reason must be seen, however many another week has.
std::string WeekMarks(int count, int most, char mark) {
  const int scale = std::max(most, kLongestWeek);
  return std::string(
      static_cast<size_t>((count * kLongestWeek + scale - 1) / scale), mark);
}

std::string WeekBar(const Counts& week, int most) {
  const int both = std::min(week.before, week.after);
  return absl::StrCat(WeekMarks(both, most, '='),
                      WeekMarks(week.before - both, most, '-'),
                      WeekMarks(week.after - both, most, '+'));
}

}  // namespace

std::string ReplayBurden(const Difference& difference) {
  Page page;
  std::map<v1::AlertKind, Counts> kinds;
  std::map<absl::CivilDay, Counts> weeks;
  int most = 0;
  for (const auto& [monday, by_kind] : difference.weeks) {
    for (const auto& [kind, counts] : by_kind) {
      for (Counts* sum : {&kinds[kind], &weeks[monday]}) {
        sum->before += counts.before;
        sum->after += counts.after;
      }
    }
    most = std::max({most, weeks[monday].before, weeks[monday].after});
  }
  page.Section("What it asks of people, reasons raised");
  Table table({"KIND", "BEFORE", "AFTER"});
  for (const auto& [kind, counts] : kinds) {
    table.Add(
        {Word(kind), absl::StrCat(counts.before), absl::StrCat(counts.after)});
  }
  page.Block(table.ToString(2));
  page.Section("By week: = as before, - fewer, + more");
  const absl::TimeZone utc = absl::UTCTimeZone();
  Table chart({"WEEK FROM", "BEFORE", "AFTER", ""});
  for (const auto& [monday, counts] : weeks) {
    chart.Add({Day(absl::FromCivil(monday, utc), utc),
               absl::StrCat(counts.before), absl::StrCat(counts.after),
               WeekBar(counts, most)});
  }
  page.Block(chart.ToString(2));
  return page.ToString();
}

}  // namespace turnstone::cli

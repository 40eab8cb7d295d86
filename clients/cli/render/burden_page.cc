#include "clients/cli/render/burden_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_format.h>

#include "clients/cli/render/burden_chart.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

std::string AgeOrNone(bool known, int64_t seconds) {
  return known ? Age(absl::Seconds(seconds)) : "-";
}

void AddTimes(const std::string& until, const v1::Times& times, Table& table) {
  table.Add({until, absl::StrCat(times.count()),
             AgeOrNone(times.has_median(), times.median()),
             AgeOrNone(times.has_ninetieth_percentile(),
                       times.ninetieth_percentile()),
             AgeOrNone(times.has_longest(), times.longest())});
}

void AddHead(const v1::Burden& burden, Page& page) {
  const absl::TimeZone zone = Zone(burden.time_zone());
  page.Line("What alerts asked of people at " + burden.site());
  page.Fact("From", DateTime(burden.from(), zone));
  page.Fact("To", DateTime(burden.to(), zone));
  page.Fact("Passed", absl::StrFormat("%.1f days", burden.days()));
  page.Fact("Alerts",
            absl::StrCat(
                burden.alerts(), " (", RateText(burden.alerts(), burden.days()),
                " a day), of ", Count(burden.participants(), "participant")));
  page.Fact("Tellings", absl::StrCat(burden.tellings()));
}

void AddPriorities(const v1::Burden& burden, Page& page) {
  page.Section("How pressing");
  Table table({"PRIORITY", "ALERTS"});
  for (const v1::PriorityShare& share : burden.by_priority()) {
    table.Add(
        {Word(share.priority()), ShareText(share.alerts(), burden.alerts())});
  }
  page.Block(table.ToString(2));
}

void AddHowLong(const v1::Burden& burden, Page& page) {
  page.Section("How long it took");
  Table table({"UNTIL", "ALERTS", "MEDIAN", "90 % WITHIN", "LONGEST"});
  AddTimes("somebody had it", burden.to_receive(), table);
  AddTimes("it had ended", burden.to_close(), table);
  page.Block(table.ToString(2));
  page.Fact("Nobody yet", absl::StrCat(burden.not_received()));
  page.Fact("Open over 24h", absl::StrCat(burden.open_over_24_hours()));
  page.Fact("No action", ShareText(burden.without_action(), burden.alerts()) +
                             ": cancelled, entered in error, or closed because "
                             "nothing needed doing");
}

void AddRepeats(const v1::Burden& burden, Page& page) {
  page.Section("The same again");
  page.Fact("While open", Count(burden.repeats(), "further reason") +
                              ", at most " +
                              absl::StrCat(burden.most_repeats()) +
                              " for one participant and rule");
  page.Fact("Raised again",
            ShareText(burden.raised_again_within_30_days(), burden.alerts()) +
                ": same participant and rule, within 30 days");
}

void AddPeople(const v1::Burden& burden, Page& page) {
  if (burden.by_person().empty()) return;
  page.Section("Who was told, and who had it first");
  Table table({"PERSON", "ALERTS", "A DAY", "TELLINGS", "HAD FIRST"});
  for (const v1::PersonLoad& load : burden.by_person()) {
    table.Add({load.person(), absl::StrCat(load.alerts()),
               RateText(load.alerts(), burden.days()),
               absl::StrCat(load.tellings()), absl::StrCat(load.received())});
  }
  page.Block(table.ToString(2));
}

void AddRules(const v1::Burden& burden, Page& page) {
  page.Section("What raised them");
  Table table({"ALERTS", "REPEATS", "NO ACTION", "RULE"});
  for (const v1::RuleLoad& load : burden.by_rule()) {
    table.Add({absl::StrCat(load.alerts()), absl::StrCat(load.repeats()),
               absl::StrCat(load.without_action()), load.title()});
  }
  page.Block(table.ToString(2));
}

}  // namespace

std::string ShareText(int part, int whole) {
  if (whole == 0) return "none";
  return absl::StrFormat("%d of %d (%d %%)", part, whole,
                         (200 * part + whole) / (2 * whole));
}

std::string RateText(int alerts, double days) {
  return days > 0 ? absl::StrFormat("%.2f", alerts / days) : "-";
}

std::string BurdenPage(const v1::Burden& dirty) {
  const v1::Burden burden = Cleaned(dirty);
  Page page;
  AddHead(burden, page);
  if (burden.alerts() == 0) {
    page.Section("No alert was raised in this time");
    page.Text("That alone does not show that nobody needed one.");
    return page.ToString();
  }
  page.Section("Over time");
  page.Block(BurdenChart(burden));
  AddPriorities(burden, page);
  AddHowLong(burden, page);
  AddRepeats(burden, page);
  AddPeople(burden, page);
  AddRules(burden, page);
  page.Block(BesideWhatIsPublished(burden));
  return page.ToString();
}

}  // namespace turnstone::cli

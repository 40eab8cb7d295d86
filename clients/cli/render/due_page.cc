#include "clients/cli/render/due_page.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

bool SeveralSites(const v1::DueList& due) {
  return std::any_of(due.item().begin(), due.item().end(),
                     [&](const v1::DueItem& item) {
                       return item.site() != due.item(0).site();
                     });
}

std::vector<std::string> Cells(const v1::DueItem& item, bool with_site,
                               absl::Time now) {
  const absl::Time at = FromProto(item.at());
  const bool late = at < now;
  std::vector<std::string> cells = {
      absl::FormatTime("%H:%M %Z", at, Zone(item.time_zone())),
      late ? "overdue" : TimeLeft(at - now)};
  if (with_site) cells.push_back(item.site());
  const std::string alert =
      item.alert_id().empty()
          ? ""
          : absl::StrCat(item.alert_id(), " ", Word(item.priority()));
  cells.insert(cells.end(), {item.participant(), alert, item.text()});
  return cells;
}

std::string DueTable(const v1::DueList& due) {
  const bool with_site = SeveralSites(due);
  std::vector<std::string> headings = {"TIME", "IN"};
  if (with_site) headings.emplace_back("SITE");
  headings.insert(headings.end(), {"PARTICIPANT", "ALERT", "WHAT"});
  Table table(std::move(headings));
  std::string day;
  for (const v1::DueItem& item : due.item()) {
    const std::string its_day =
        Day(FromProto(item.at()), Zone(item.time_zone()));
    if (its_day != day) table.AddHeading(its_day);
    day = its_day;
    table.Add(Cells(item, with_site, FromProto(due.now())));
  }
  return table.ToString(0);
}

}  // namespace

std::string DuePage(const v1::DueList& raw, absl::Time until) {
  const v1::DueList due = Cleaned(raw);
  const absl::TimeZone zone =
      due.item().empty() ? absl::UTCTimeZone() : Zone(due.item(0).time_zone());
  Page page;
  if (due.item().empty()) {
    page.Line(
        absl::StrCat("Nothing falls due by ", DateTime(until, zone), "."));
    return page.ToString();
  }
  page.Line(absl::StrCat(Count(due.item_size(), "thing"), " due by ",
                         DateTime(until, zone), "; now it is ",
                         DateTime(due.now(), zone)));
  page.Line("");
  page.Block(DueTable(due));
  if (due.more()) {
    page.Line(
        "\nThere is more than is shown. Write a nearer time: turnstone "
        "due --by 2h");
  }
  return page.ToString();
}

}  // namespace turnstone::cli

#include "clients/cli/render/alert_list.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

// Names may be long; the alert's own page has them whole.
constexpr size_t kHolderWidth = 16;

bool Before(const v1::Alert& a, const v1::Alert& b) {
  const auto key = [](const v1::Alert& alert) {
    return std::make_tuple(-alert.priority(), FromProto(alert.raised_at()));
  };
  return key(a) < key(b);
}

std::string Below(const std::string& first, const std::string& second) {
  return second.empty() ? first : absl::StrCat(first, "\n", second);
}

std::vector<std::string> Cells(const v1::Alert& alert, bool with_site,
                               absl::Time now) {
  std::vector<std::string> cells = {alert.alert_id(), Word(alert.kind())};
  if (with_site) cells.push_back(alert.site());
  std::string what = alert.rule().title();
  for (const std::string& mark : Marks(alert)) {
    absl::StrAppend(&what, "\n- ", mark);
  }
  if (IsOpen(alert)) absl::StrAppend(&what, "\n- next: ", NextText(alert));
  const std::string waiting =
      IsOpen(alert) ? Age(now - FromProto(alert.raised_at())) : "ended";
  const std::optional<absl::Time> next = NextAt(alert);
  cells.insert(
      cells.end(),
      {alert.participant(),
       Below(Word(alert.status()), Clip(HolderName(alert), kHolderWidth)),
       Below(waiting, next ? TimeLeft(*next - now) : ""), what});
  return cells;
}

}  // namespace

bool SeveralSites(const std::vector<v1::Alert>& alerts) {
  return std::any_of(alerts.begin(), alerts.end(), [&](const v1::Alert& a) {
    return a.site() != alerts.front().site();
  });
}

void SortByPressure(std::vector<v1::Alert>& alerts) {
  std::stable_sort(alerts.begin(), alerts.end(), Before);
}

std::string AlertTable(std::vector<v1::Alert> alerts, absl::Time now) {
  if (alerts.empty()) return "";
  std::map<v1::Priority, int> counts;
  for (v1::Alert& alert : alerts) {
    CleanTexts(alert);
    ++counts[alert.priority()];
  }
  SortByPressure(alerts);
  const bool with_site = SeveralSites(alerts);
  std::vector<std::string> headings = {"ALERT", "KIND"};
  if (with_site) headings.emplace_back("SITE");
  headings.insert(headings.end(),
                  {"PARTICIPANT", "STATUS\nWITH", "WAITING\nNEXT IN", "WHAT"});
  Table table(std::move(headings));
  std::string priority;
  for (const v1::Alert& alert : alerts) {
    if (priority != Word(alert.priority())) {
      priority = Word(alert.priority());
      table.AddHeading(absl::StrCat(priority, ": ",
                                    Count(counts[alert.priority()], "alert")));
    }
    table.Add(Cells(alert, with_site, now));
  }
  return table.ToString(0);
}

std::string AlertLine(const v1::Alert& raw) {
  const v1::Alert alert = Cleaned(raw);
  const int changes = alert.history_size();
  const auto& latest = changes == 0 ? v1::AlertChange::default_instance()
                                    : alert.history(changes - 1);
  std::vector<std::string> parts = {
      absl::StrCat("#", alert.position()),
      DateTime(changes == 0 ? alert.raised_at() : latest.at(),
               Zone(alert.time_zone())),
      alert.alert_id(),
      Word(alert.priority()),
      Word(alert.kind()),
      Word(alert.status()),
      alert.site(),
      alert.participant(),
      alert.rule().title()};
  if (!latest.text().empty()) parts.push_back(latest.text());
  return absl::StrJoin(parts, "  ");
}

}  // namespace turnstone::cli

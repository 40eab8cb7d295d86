#include "clients/cli/render/alert_list.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

// Most pressing first, then longest waiting.
bool Before(const v1::Alert& a, const v1::Alert& b) {
  const auto key = [](const v1::Alert& alert) {
    return std::make_tuple(-alert.priority(), ToTime(alert.raised_at()));
  };
  return key(a) < key(b);
}

bool SeveralSites(const std::vector<v1::Alert>& alerts) {
  return std::any_of(alerts.begin(), alerts.end(), [&](const v1::Alert& a) {
    return a.site() != alerts.front().site();
  });
}

std::vector<std::string> Cells(const v1::Alert& alert, bool with_site,
                               absl::Time now) {
  std::vector<std::string> cells = {alert.alert_id(), Word(alert.kind())};
  if (with_site) cells.push_back(alert.site());
  std::string what = alert.rule().title();
  for (const std::string& mark : Marks(alert)) {
    absl::StrAppend(&what, "\n- ", mark);
  }
  const std::string waiting =
      IsOpen(alert) ? Age(now - ToTime(alert.raised_at())) : "ended";
  cells.insert(cells.end(),
               {alert.participant(), Word(alert.status()), waiting, what});
  return cells;
}

}  // namespace

bool IsOpen(const v1::Alert& alert) {
  switch (alert.status()) {
    case v1::ALERT_STATUS_COMPLETED:
    case v1::ALERT_STATUS_CANCELLED:
    case v1::ALERT_STATUS_ENTERED_IN_ERROR:
      return false;
    default:
      return true;
  }
}

bool IsUnknown(const v1::Alert& alert) {
  const auto& all = alert.occurrence();
  const bool any_stands = std::any_of(
      all.begin(), all.end(),
      [](const v1::Occurrence& o) { return !o.has_no_longer_since(); });
  bool unknown = false;
  for (const v1::Occurrence& occurrence : all) {
    if (any_stands && occurrence.has_no_longer_since()) continue;
    if (occurrence.truth() == v1::TRUTH_TRUE) return false;
    unknown = unknown || occurrence.truth() == v1::TRUTH_UNKNOWN;
  }
  return unknown;
}

std::vector<std::string> Marks(const v1::Alert& alert) {
  std::vector<std::string> marks;
  if (IsUnknown(alert))
    marks.emplace_back("to be checked: information missing");
  if (alert.has_withdrawal()) marks.emplace_back("no longer applies");
  if (alert.latched() && IsOpen(alert)) {
    marks.emplace_back("must be closed by a person");
  }
  return marks;
}

std::string AlertTable(std::vector<v1::Alert> alerts, absl::Time now) {
  if (alerts.empty()) return "";
  std::map<v1::Priority, int> counts;
  for (v1::Alert& alert : alerts) {
    CleanTexts(alert);
    ++counts[alert.priority()];
  }
  std::stable_sort(alerts.begin(), alerts.end(), Before);
  const bool with_site = SeveralSites(alerts);
  std::vector<std::string> headings = {"ALERT", "KIND"};
  if (with_site) headings.emplace_back("SITE");
  headings.insert(headings.end(), {"PARTICIPANT", "STATUS", "WAITING", "WHAT"});
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

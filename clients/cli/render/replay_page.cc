#include "clients/cli/render/replay_page.h"

#include <absl/strings/str_cat.h>

#include <map>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/replay_burden.h"
#include "clients/cli/render/replay_rows.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"

namespace turnstone::cli {
namespace {

constexpr size_t kRowsMax = 30;

// What changes of one rule.
struct RuleChange {
  int added = 0;
  int lost = 0;
  int otherwise = 0;
};

std::map<std::string, RuleChange> ChangesByRule(const Difference& difference) {
  std::map<std::string, RuleChange> rules;
  for (const Verdict& verdict : difference.added) ++rules[verdict.rule].added;
  for (const Verdict& verdict : difference.lost) ++rules[verdict.rule].lost;
  for (const ChangedVerdict& changed : difference.changed) {
    ++rules[changed.before.rule].otherwise;
  }
  return rules;
}

Counts AllReasons(const Difference& difference) {
  Counts all;
  for (const auto& [rule, counts] : difference.rules) {
    all.before += counts.before;
    all.after += counts.after;
  }
  return all;
}

void AddReplayTable(const std::vector<ReplayRow>& rows, bool all,
                    absl::TimeZone zone, Page& page) {
  Table table({"WHO", "WHEN", "WHAT", "RULE AND WHY"});
  size_t shown = 0;
  for (const ReplayRow& row : rows) {
    if (!all && shown == kRowsMax) break;
    ++shown;
    table.Add({row.participant, DateTime(row.asked, zone), row.what, row.text});
  }
  page.Block(table.ToString(2));
  if (shown < rows.size()) {
    page.Text(absl::StrCat("and ", rows.size() - shown,
                           " more; --all lists every one"));
  }
}

void AddWarning(const Difference& difference, const ReplayAbout& about,
                Page& page) {
  const std::vector<Verdict> lost = LostSafety(difference);
  if (!lost.empty()) {
    page.Line(absl::StrCat(
        "WARNING: ", Count(static_cast<int64_t>(lost.size()), "reason"),
        " of kind safety would no longer be raised."));
    std::vector<ReplayRow> rows;
    rows.reserve(lost.size());
    for (const Verdict& verdict : lost) {
      rows.push_back({CleanLine(verdict.participant), verdict.asked, "lost",
                      VerdictText(verdict)});
    }
    AddReplayTable(rows, about.all, about.zone, page);
    page.Line("");
  }
  const Unread& unread = difference.unread_after;
  if (unread.events > difference.unread_before.events) {
    page.Line(absl::StrCat("WARNING: the candidate cannot read ",
                           Count(unread.events, "event"),
                           "; what it would have raised is not known."));
    page.Text(CleanLine(absl::StrCat("The first: ", unread.first)));
    page.Line("");
  }
}

std::string OverWhat(const Difference& difference, const ReplayAbout& about) {
  std::string text =
      absl::StrCat("Over ", Count(difference.events, "event"), " of ",
                   Count(difference.participants, "participant"), " at ",
                   CleanLine(about.site));
  if (about.window.from > absl::InfinitePast()) {
    absl::StrAppend(&text, ", from ", Date(about.window.from, about.zone));
  }
  if (about.window.to < absl::InfiniteFuture()) {
    absl::StrAppend(&text, ", up to ", DateTime(about.window.to, about.zone));
  }
  return text;
}

void AddRuleChanges(const Difference& difference, Page& page) {
  page.Section("By rule, reasons raised");
  Table table({"BEFORE", "AFTER", "NEW", "NO LONGER", "OTHERWISE", "RULE"});
  for (const auto& [rule, change] : ChangesByRule(difference)) {
    const Counts& all = difference.rules.at(rule);
    table.Add({absl::StrCat(all.before), absl::StrCat(all.after),
               absl::StrCat(change.added), absl::StrCat(change.lost),
               absl::StrCat(change.otherwise), CleanLine(rule)});
  }
  page.Block(table.ToString(2));
}

}  // namespace

std::string ReplayPage(const Difference& difference, const ReplayAbout& about) {
  Page page;
  AddWarning(difference, about, page);
  const std::string over = OverWhat(difference, about);
  if (difference.added.empty() && difference.lost.empty() &&
      difference.changed.empty()) {
    page.Block(WrapAfter("", absl::StrCat(over, ", nothing changes."), 0));
    return page.ToString();
  }
  const Counts all = AllReasons(difference);
  page.Block(WrapAfter(
      "",
      absl::StrCat(over, ", ", Count(all.after, "reason"),
                   " would be raised instead of ", all.before, ": ",
                   difference.added.size(), " new, ", difference.lost.size(),
                   " no longer, ", difference.changed.size(), " otherwise."),
      0));
  page.Block(
      Wrap("A reason that joins an open alert is counted as well, so there are "
           "fewer alerts than reasons.",
           0));
  AddRuleChanges(difference, page);
  page.Section("By participant");
  AddReplayTable(RowsOf(difference, about.zone), about.all, about.zone, page);
  page.Block(ReplayBurden(difference));
  return page.ToString();
}

}  // namespace turnstone::cli

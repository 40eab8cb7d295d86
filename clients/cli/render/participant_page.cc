#include "clients/cli/render/participant_page.h"

#include <absl/strings/str_cat.h>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/chart.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

std::string DueText(const v1::DueEntry& due, absl::Time now) {
  const absl::Duration ahead = FromProto(due.at()) - now;
  if (ahead < absl::ZeroDuration()) {
    return absl::StrCat(due.text(), "\noverdue by ", Age(-ahead));
  }
  return absl::StrCat(due.text(), "\nin ", Age(ahead));
}

void DueSection(const v1::ParticipantView& view, Page& page) {
  page.Section("Due");
  Table table({"WHEN", "WHAT"});
  for (const v1::DueEntry& due : view.due()) {
    table.Add({DateTime(due.at(), Zone(view.time_zone())),
               DueText(due, FromProto(view.now()))});
  }
  if (view.due().empty()) {
    page.Text("nothing");
  } else {
    page.Block(table.ToString(2));
  }
}

void AlertSection(const v1::ParticipantView& view, Page& page) {
  std::vector<v1::Alert> open;
  std::vector<v1::Alert> ended;
  for (const v1::Alert& alert : view.alert()) {
    (IsOpen(alert) ? open : ended).push_back(alert);
  }
  page.Section("Open alerts");
  if (open.empty()) page.Text("none");
  page.Block(AlertTable(open, FromProto(view.now())));
  if (ended.empty()) return;
  page.Section("Ended alerts");
  page.Block(AlertTable(ended, FromProto(view.now())));
}

void ScoreSection(const v1::ParticipantView& view, Page& page) {
  for (const v1::ScoreSeries& series : view.series()) {
    page.Line("");
    page.Block(ScoreChart(series, view.time_zone()));
  }
}

std::string EntryText(const v1::TimelineEntry& entry) {
  std::string text = entry.text();
  if (entry.withdrawn()) {
    absl::StrAppend(&text, "\nwithdrawn by ", entry.corrected_by());
  } else if (!entry.corrected_by().empty()) {
    absl::StrAppend(&text, "\ncorrected by ", entry.corrected_by());
  }
  return text;
}

void TimelineSection(const v1::ParticipantView& view, Page& page) {
  page.Section("Timeline");
  Table table({"HAPPENED", "EVENT", "WHAT"});
  for (const v1::TimelineEntry& entry : view.timeline()) {
    table.Add({DateTime(entry.effective_time(), Zone(view.time_zone())),
               entry.event_id(), EntryText(entry)});
  }
  page.Block(table.ToString(2));
}

}  // namespace

std::string ParticipantPage(const v1::ParticipantView& raw) {
  const v1::ParticipantView view = Cleaned(raw);
  Page page;
  page.Line(
      absl::StrCat("Participant ", view.participant(), ", site ", view.site()));
  page.Line(
      absl::StrCat("as of ", DateTime(view.now(), Zone(view.time_zone()))));
  page.Line("");
  page.Line(absl::StrCat(
      view.enrolled() ? "In the programme" : "Not in the programme",
      "; visits ", view.visits_attended(), " of ", view.visits_planned()));
  AlertSection(view, page);
  DueSection(view, page);
  ScoreSection(view, page);
  TimelineSection(view, page);
  page.Section("Caution");
  page.Text(view.caution().empty() ? kCaution : view.caution());
  return page.ToString();
}

}  // namespace turnstone::cli

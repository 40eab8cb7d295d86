#include "clients/cli/render/measure_page.h"

#include <absl/strings/str_cat.h>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/chart.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"

namespace turnstone::cli {

std::string MeasurePage(
    const std::vector<v1::MeasuredParticipant>& participants,
    const std::string& time_zone) {
  Page page;
  for (const v1::MeasuredParticipant& raw : participants) {
    const v1::MeasuredParticipant participant = Cleaned(raw);
    page.Line(absl::StrCat("Participant ", participant.participant(),
                           participant.site().empty() ? "" : ", site ",
                           participant.site()));
    for (const v1::ScoreSeries& series : participant.series()) {
      page.Line("");
      page.Block(ScoreChart(series, time_zone));
    }
    page.Line("");
    page.Line("");
  }
  page.Line("Caution");
  page.Text(kCaution);
  return page.ToString();
}

}  // namespace turnstone::cli

#include "clients/cli/render/shadow_page.h"

#include <absl/strings/str_cat.h>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/render/version_page.h"
#include "clients/cli/words.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

Table NewTable() {
  return Table({"when", "who", "kind", "priority", "rule and why"});
}

void AddRow(const std::string& participant, const std::string& rule,
            v1::AlertKind kind, const v1::Occurrence& reason,
            absl::TimeZone zone, Table& table) {
  table.Add({DateTime(reason.due(), zone), participant, Word(kind),
             Word(reason.priority()), absl::StrCat(rule, ": ", reason.why())});
}

}  // namespace

std::string ShadowPageText(const v1::ShadowPage& dirty) {
  const v1::ShadowPage shadow = Cleaned(dirty);
  if (!shadow.has_version()) {
    return "Nothing is in shadow. Versions there are: turnstone rules "
           "versions\n";
  }
  Table only_shadow = NewTable();
  int more = 0;
  int alike = 0;
  absl::TimeZone zone = absl::UTCTimeZone();
  for (const v1::ShadowVerdict& verdict : shadow.verdict()) {
    zone = Zone(verdict.time_zone());
    if (!verdict.alert_id().empty()) {
      ++alike;
      continue;
    }
    ++more;
    AddRow(verdict.participant(), verdict.rule(), verdict.kind(),
           verdict.occurrence(), zone, only_shadow);
  }
  Table only_in_force = NewTable();
  for (const v1::MissingInShadow& missing : shadow.missing()) {
    AddRow(missing.participant(),
           absl::StrCat(missing.rule(), " (", missing.alert_id(), ")"),
           missing.kind(), missing.occurrence(), zone, only_in_force);
  }
  Page page;
  page.Line(absl::StrCat("In shadow since ",
                         DateTime(shadow.version().shadow_since(), zone), ": ",
                         ShortDigest(shadow.version().digest())));
  page.Text(absl::StrCat(
      Count(alike, "reason"), " raised by both, ", more,
      " only by the one in shadow, ", shadow.missing_size(),
      " only by the one in force. The one in shadow told nobody."));
  if (more > 0) {
    page.Section("Only in shadow: these would be new");
    page.Block(only_shadow.ToString(2));
  }
  if (shadow.missing_size() > 0) {
    page.Section("Only in force: these would be missing");
    page.Block(only_in_force.ToString(2));
  }
  return page.ToString();
}

}  // namespace turnstone::cli

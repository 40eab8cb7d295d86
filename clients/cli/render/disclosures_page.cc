#include "clients/cli/render/disclosures_page.h"

#include <absl/strings/str_cat.h>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

std::string What(const v1::Disclosure& one) {
  std::string what = one.what();
  for (const std::string& more : {one.alert_id(), one.detail()}) {
    if (!more.empty()) absl::StrAppend(&what, ", ", more);
  }
  return what;
}

}  // namespace

std::string DisclosuresPage(const v1::Disclosures& raw) {
  const v1::Disclosures disclosures = Cleaned(raw);
  const absl::TimeZone zone = Zone(disclosures.time_zone());
  Page page;
  page.Line(absl::StrCat("Who looked at ", disclosures.participant(), " of ",
                         disclosures.site(),
                         ", or worked on their alerts, up to ",
                         DateTime(disclosures.now(), zone)));
  if (disclosures.disclosure().empty()) {
    page.Line("Nobody.");
    return page.ToString();
  }
  Table table({"WHEN", "WHO", "ROLE", "WHAT"});
  std::string day;
  for (const v1::Disclosure& one : disclosures.disclosure()) {
    const absl::Time at = FromProto(one.at());
    if (Day(at, zone) != day) table.AddHeading(day = Day(at, zone));
    table.Add({absl::FormatTime("%H:%M:%S %Z", at, zone), one.by().name(),
               one.by().role(), What(one)});
  }
  page.Block(table.ToString(0));
  return page.ToString();
}

}  // namespace turnstone::cli

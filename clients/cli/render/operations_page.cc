#include "clients/cli/render/operations_page.h"

#include <absl/strings/str_cat.h>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"

namespace turnstone::cli {

std::string BackupPage(const v1::Backup& from_service) {
  const v1::Backup backup = Cleaned(from_service);
  Page page;
  page.Line(absl::StrCat("backup made: ", backup.file()));
  page.Text(absl::StrCat(Count(backup.events(), "event"), " up to ",
                         DateTime(backup.at(), absl::UTCTimeZone()), ", ",
                         Count(backup.bytes(), "byte"),
                         ", synced and checked."));
  page.Text(
      "It lies in the service's folder of backups and holds everything that is "
      "known of every participant. Copy it to another machine, and keep it as "
      "safe as the service's own data.");
  return page.ToString();
}

std::string ErasurePage(const v1::Erasure& from_service) {
  const v1::Erasure erasure = Cleaned(from_service);
  Page page;
  page.Line(absl::StrCat("erased at ", erasure.site(), ": the content of ",
                         Count(erasure.events(), "event"), " and ",
                         Count(erasure.alerts(), "alert"),
                         "; it is gone from the service's files."));
  page.Text(
      "Counts stay as they were, and no event can be accepted twice. Backups "
      "made before still hold it: delete them when you may, and after a "
      "restore from one, erase the participant again.");
  return page.ToString();
}

}  // namespace turnstone::cli

#include "rules/check/check_site.h"

#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

#include <limits>

#include "rules/check/check_calendar.h"
#include "rules/check/check_channels.h"
#include "rules/check/check_ladders.h"
#include "rules/check/check_overrides.h"
#include "rules/check/check_people.h"
#include "rules/check/check_retention.h"
#include "rules/check/check_rota.h"
#include "rules/check/check_sign_of_life.h"
#include "rules/check/check_times.h"
#include "rules/check/require.h"
#include "rules/check/staff.h"

namespace turnstone {
namespace {

void CheckZone(const v1::SiteConfig& site, const Place& file) {
  const std::string& name = site.time_zone();
  absl::TimeZone zone;
  // The library also reads files by path, and the machine's own zone: names
  // that mean something else elsewhere.
  const bool named = !name.empty() && name[0] != '/' && name != "localtime" &&
                     !name.starts_with("file:") && !name.starts_with("libc:");
  if (named && absl::LoadTimeZone(name, &zone)) return;
  file.At("time_zone")
      .Report("time-zone-unknown",
              name.empty()
                  ? "time_zone is missing or empty"
                  : absl::StrCat("there is no time zone \"", name, "\""),
              "write an IANA name, such as \"Europe/Dublin\"");
}

Names CheckProtocols(const v1::SiteConfig& site, const Place& file) {
  Names ids("protocol");
  for (int i = 0; i < site.protocol_size(); ++i) {
    const Place place = file.At("protocol", i);
    RequireId(place, "id");
    ids.Add(place.At("id"), site.protocol(i).id());
    RequireText(place, "title", "its heading");
    RequireText(place, "text", "what to do, in the site's own words");
    RequireNumber(place, "version", {1, std::numeric_limits<int>::max()});
    CheckDate(place.At("review_by"), "review_by", site.protocol(i).review_by());
  }
  return ids;
}

void CheckProtocolsOf(const v1::RuleSet& rules, const Names& protocols,
                      const Place& file) {
  Names reported("protocol");
  for (const v1::Rule& rule : rules.rule()) {
    const std::string& id = rule.protocol();
    if (id.empty() || protocols.Has(id) || reported.Has(id)) continue;
    reported.Add(file, id);
    file.Report("protocol-missing",
                absl::StrCat("rule \"", rule.id(), "\" names protocol \"", id,
                             "\", which the site does not have"),
                absl::StrCat("add protocol { id: \"", id, "\" ... }"));
  }
}

void CheckClosings(const v1::SiteConfig& site, const Place& file) {
  if (site.closing_outcome().empty()) {
    file.Report("closing-outcome-missing",
                "there is no closing_outcome, so no alert could be closed",
                "add closing_outcome { id: \"...\" title: \"...\" }");
  }
  Names ids("closing outcome");
  for (int i = 0; i < site.closing_outcome_size(); ++i) {
    const Place place = file.At("closing_outcome", i);
    RequireId(place, "id");
    ids.Add(place.At("id"), site.closing_outcome(i).id());
    RequireText(place, "title", "words for people");
  }
}

void CheckDuty(const v1::SiteConfig& site, const Place& file) {
  const Staff staff = StaffOf(site);
  CheckRoles(site, file);
  CheckPersons(site, file, staff);
  CheckRights(site, file, staff);
  CheckChannels(site, file);
  CheckRotas(site, file, staff);
  if (site.rota().empty()) {
    file.Report("rota-missing",
                "there is no rota, so nobody is on duty for what cannot wait",
                "write rota { role: \"...\" rotation { ... } }");
  }
  CheckLadders(site, file, staff);
  RequireNumber(file, "longest_hold_days", {1, 90});
}

}  // namespace

void CheckSite(const v1::SiteConfig& site, const Place& file,
               const Known& known) {
  RequireId(file, "id");
  RequireText(file, "name", "the team's name");
  CheckZone(site, file);
  RequireNumber(file, "version", {1, std::numeric_limits<int>::max()});
  RequireNumber(file, "planned_visits", {1, 52});
  CheckCalendar(site.calendar(), file.At("calendar"));
  const Names protocols = CheckProtocols(site, file);
  CheckClosings(site, file);
  RequireText(file, "immediate_danger",
              "what to do in immediate danger, with the number to call");
  CheckDuty(site, file);
  CheckRetention(site, file);
  CheckSignOfLife(site, file);
  const bool named = RequireText(file, "rule_set", "the id of a rule set");
  const v1::RuleSet* rules =
      named ? Lookup(known.rule_sets, known.complete, "rule set",
                     site.rule_set(), file.At("rule_set"))
            : nullptr;
  CheckOverrides(site, file, rules);
  if (rules != nullptr) CheckProtocolsOf(*rules, protocols, file);
}

}  // namespace turnstone

#include "tests/faults/alert_watch.h"

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"
#include "tests/faults/ladder_model.h"

namespace turnstone::faults {
namespace {

bool IsOf(const std::string& person, const v1::SiteConfig& site) {
  return std::any_of(site.person().begin(), site.person().end(),
                     [&](const v1::Person& one) { return one.id() == person; });
}

// Nobody did anything between the two, and no more pressing reason came.
bool SameClimb(const v1::Alert& before, const v1::Alert& after) {
  return IsOpen(after) && before.status() == after.status() &&
         before.priority() == after.priority() &&
         PeoplesEntries(before) == PeoplesEntries(after) &&
         before.status() != v1::ALERT_STATUS_ON_HOLD;
}

}  // namespace

std::vector<std::string> PeoplesEntries(const v1::Alert& alert) {
  std::vector<std::string> entries;
  for (const v1::AlertChange& change : alert.history()) {
    if (change.by().role() == "service") continue;
    entries.push_back(absl::StrCat(change.by().name(), " ",
                                   change.at().seconds(), " ", change.text()));
  }
  return entries;
}

void AlertWatch::Answered(const v1::Alert& alert) {
  v1::Alert& seen = seen_[alert.alert_id()];
  if (alert.position() >= seen.position()) seen = alert;
}

void AlertWatch::Take(const v1::Alert& alert, const std::string& site,
                      absl::Time now, const v1::Configuration& configuration) {
  if (alert.site() != site) {
    findings_.Add("BrokeScope", alert.alert_id(), " of ", alert.site(),
                  " is listed for ", site);
  }
  CheckPeople(alert, *SiteNamed(alert.site(), configuration));
  const auto before = seen_.find(alert.alert_id());
  if (before != seen_.end()) {
    CompareWithBefore(before->second, alert, now, configuration);
  }
  seen_[alert.alert_id()] = alert;
}

void AlertWatch::CompareWithBefore(const v1::Alert& before,
                                   const v1::Alert& alert, absl::Time now,
                                   const v1::Configuration& configuration) {
  const std::vector<std::string> had = PeoplesEntries(before);
  const std::vector<std::string> has = PeoplesEntries(alert);
  if (alert.position() < before.position() || had.size() > has.size() ||
      !std::equal(had.begin(), had.end(), has.begin()) ||
      alert.occurrence_size() < before.occurrence_size()) {
    return findings_.Add("BrokeDurable", alert.alert_id(),
                         " is not as it was seen before");
  }
  if (!IsOpen(before)) {
    if (IsOpen(alert)) {
      findings_.Add("BrokeDurable", alert.alert_id(), " had ended");
    }
    return;
  }
  if (!SameClimb(before, alert)) return;
  const v1::SiteConfig& site = *SiteNamed(alert.site(), configuration);
  if (DeadlineByFile(before, site) > now) return;
  const v1::Escalation& was = before.escalation();
  const v1::Escalation& is = alert.escalation();
  const int rungs = ClimbUnderway(alert, site)->rung_size();
  if (is.tellings() <= was.tellings() ||
      is.rungs_reached() < std::min(was.rungs_reached() + 1, rungs)) {
    findings_.Add("BrokeOnTime", alert.alert_id(), ": rung ",
                  was.rungs_reached() + 1, " was due at ",
                  absl::FormatTime(DeadlineByFile(before, site)),
                  " and was not reached, at ", absl::FormatTime(now));
  }
}

void AlertWatch::CheckPeople(const v1::Alert& alert,
                             const v1::SiteConfig& site) {
  for (const v1::AlertChange& change : alert.history()) {
    for (const std::string& person : change.told()) {
      // A holder whose name the site's file does not know is not told.
      if (IsOf(person, site)) continue;
      findings_.Add("BrokeScope", alert.alert_id(), " of ", alert.site(),
                    " was told to ", person, ", who is not there");
    }
  }
}

void AlertWatch::CheckDeadlines(absl::Time now,
                                const v1::Configuration& configuration) {
  for (const auto& [id, alert] : seen_) {
    if (!IsOpen(alert)) continue;
    const absl::Time deadline =
        DeadlineByFile(alert, *SiteNamed(alert.site(), configuration));
    if (deadline > now) continue;
    findings_.Add("BrokeOnTime", id, ": what was due at ",
                  absl::FormatTime(deadline), " is not on record at ",
                  absl::FormatTime(now));
  }
}

void AlertWatch::CheckNoneIsGone(const std::map<std::string, int64_t>& now) {
  for (const auto& [id, alert] : seen_) {
    const auto found = now.find(id);
    if (found == now.end() || found->second < alert.position()) {
      findings_.Add("BrokeDurable", id, " was seen at position ",
                    alert.position(), " and is gone, or as it was before");
    }
  }
}

}  // namespace turnstone::faults

#include "tests/faults/nth_checks.h"

#include <absl/strings/str_cat.h>

#include <set>
#include <utility>
#include <vector>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"
#include "tests/faults/alert_checks.h"

namespace turnstone::faults {
namespace {

// Far more than a scenario has.
constexpr int kMany = 10000;

v1::Actor Lead() {
  v1::Actor lead;
  lead.set_name("p.wren");
  lead.set_role("programme-lead");
  return lead;
}

std::string Lost(scenarios::World& world) {
  for (const v1::Event& event : world.accepted()) {
    v1::Actor by;
    by.set_name("intake");
    const auto answer = world.core().StageSubmit(event, by);
    if (!answer.ok() || !answer->repeated_submission()) {
      return absl::StrCat("BrokeDurable: accepted and not known any more: ",
                          event.event_id(), " ", answer.status().ToString());
    }
  }
  const absl::Status status = world.core().Commit();
  return status.ok() ? "" : absl::StrCat("BrokeDurable: ", status.ToString());
}

std::string EventTwice(scenarios::World& world) {
  std::set<std::string> ids;
  std::set<int64_t> sequences;
  for (const v1::SiteConfig& site : world.core().configuration().site()) {
    const auto page = world.core().EventsAfter(site.id(), 0, kMany, Lead());
    if (!page.ok()) return page.status().ToString();
    for (const StoredEvent& stored : page->events) {
      if (!ids.insert(stored.event.event_id()).second) {
        return absl::StrCat("BrokeOnce: twice: ", stored.event.event_id());
      }
      sequences.insert(stored.sequence);
    }
  }
  if (!sequences.empty() &&
      *sequences.rbegin() != static_cast<int64_t>(sequences.size())) {
    return "BrokeDurable: there is a gap in the sequence of events";
  }
  return "";
}

}  // namespace

std::string WhatBroke(scenarios::World& world) {
  std::string broke = Lost(world);
  if (broke.empty()) broke = EventTwice(world);
  if (!broke.empty()) return broke;
  const auto alerts = world.core().AlertsAfter("", 0, kMany, SiteScope::All());
  if (!alerts.ok()) return alerts.status().ToString();
  return WhatIsWrongWith(*alerts, world.core().Now());
}

std::string AlertsInShort(scenarios::World& world) {
  const auto alerts = world.core().AlertsAfter("", 0, kMany, SiteScope::All());
  if (!alerts.ok()) return alerts.status().ToString();
  std::set<std::string> lines;
  for (const v1::Alert& alert : *alerts) {
    std::string line = absl::StrCat(
        "  ", alert.alert_id(), " ", alert.site(), "/", alert.participant(),
        " ", alert.rule().rule(), " priority ", alert.priority(), " status ",
        alert.status(), " with ", alert.holder().name());
    for (const v1::Occurrence& reason : alert.occurrence()) {
      absl::StrAppend(&line, "; ", reason.event_id(), " ",
                      reason.corrected_by(), " ", reason.due().seconds(),
                      reason.has_no_longer_since() ? " gone" : "");
    }
    lines.insert(absl::StrCat(line, "\n"));
  }
  std::string all;
  for (const std::string& line : lines) all += line;
  return all;
}

}  // namespace turnstone::faults

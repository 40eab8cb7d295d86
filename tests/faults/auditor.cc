#include "tests/faults/auditor.h"

#include <algorithm>
#include <vector>

#include "tests/faults/alert_checks.h"

namespace turnstone::faults {
namespace {

constexpr int kPage = 500;

v1::Actor WhoMayReadEvents() {
  v1::Actor lead;
  lead.set_name("p.wren");
  lead.set_role("programme-lead");
  return lead;
}

}  // namespace

void Auditor::TimeIs(const Clock& clock) {
  now_ = std::max(now_ + (clock.Elapsed() - elapsed_), clock.Now());
  elapsed_ = clock.Elapsed();
}

void Auditor::Started(Core& core, const Clock& clock) {
  now_ = core.Now();
  elapsed_ = clock.Elapsed();
  if (now_ < clock.Now()) {
    findings_.Add("BrokeOnTime", "the service's time is behind the wall's");
  }
  events_.BeginReading();
  sequence_.clear();
  position_.clear();
  there_.clear();
  anew_ = true;
}

void Auditor::Look(Core& core) {
  if (core.Now() != now_) {
    findings_.Add("BrokeOnTime", "the service's time is ",
                  absl::FormatTime(core.Now()), " and should be ",
                  absl::FormatTime(now_));
  }
  if (!ReadEvents(core)) return;
  if (anew_) events_.EndReading();
  if (!ReadAlerts(core)) return;
  reasons_.Check();
  alerts_.CheckDeadlines(now_, core.configuration());
  if (anew_) CheckLists(core);
  anew_ = false;
}

bool Auditor::ReadEvents(Core& core) {
  for (const v1::SiteConfig& site : core.configuration().site()) {
    int64_t& after = sequence_[site.id()];
    size_t read = kPage;
    while (read == kPage) {
      const auto page =
          core.EventsAfter(site.id(), after, kPage, WhoMayReadEvents());
      if (!page.ok()) return false;
      read = page->events.size();
      for (const StoredEvent& stored : page->events) {
        if (stored.event.site() != site.id()) {
          findings_.Add("BrokeScope", stored.event.event_id(),
                        " is listed for ", site.id());
        }
        after = stored.sequence;
        events_.Read(stored);
        reasons_.Take(stored.event);
      }
    }
  }
  return true;
}

bool Auditor::ReadAlerts(Core& core) {
  std::vector<v1::Alert> changed;
  for (const v1::SiteConfig& site : core.configuration().site()) {
    int64_t& after = position_[site.id()];
    size_t read = kPage;
    while (read == kPage) {
      const auto some =
          core.AlertsAfter(site.id(), after, kPage, SiteScope::All());
      if (!some.ok()) return false;
      read = some->size();
      for (const v1::Alert& alert : *some) {
        after = alert.position();
        there_[alert.alert_id()] = after;
        alerts_.Take(alert, site.id(), now_, core.configuration());
        reasons_.Take(alert);
        changed.push_back(alert);
      }
    }
  }
  findings_.AddLine(WhatIsWrongWith(changed, now_));
  if (anew_) alerts_.CheckNoneIsGone(there_);
  return true;
}

void Auditor::CheckLists(Core& core) {
  for (const v1::SiteConfig& site : core.configuration().site()) {
    v1::ListAlertsRequest request;
    request.set_site(site.id());
    const auto list = core.ListAlerts(request, SiteScope::All());
    v1::ListOutboxRequest outbox_request;
    outbox_request.set_site(site.id());
    const auto outbox = core.ListOutbox(outbox_request, SiteScope::All());
    if (!list.ok() || !outbox.ok()) return;
    for (const v1::Alert& alert : list->alert()) {
      if (alert.site() == site.id()) continue;
      findings_.Add("BrokeScope", alert.alert_id(), " is listed for ",
                    site.id());
    }
    for (const v1::OwedMessage& message : outbox->message()) {
      if (message.site() == site.id()) continue;
      findings_.Add("BrokeScope", message.key(), " is listed for ", site.id());
    }
  }
}

void Auditor::Done(const std::string& action, const std::string& subject) {
  ++done_[{action, subject}];
}

}  // namespace turnstone::faults

// A version of the rules in shadow, and what is read of versions.
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <map>
#include <utility>

#include "rules/measure/proto_time.h"
#include "service/core/core.h"
#include "service/core/erasure.h"
#include "service/core/rights.h"
#include "service/core/work_checks.h"
#include "service/store/alert_id.h"

namespace turnstone {
namespace {

constexpr int kMissingMax = 200;
constexpr int kAlertsAtOnce = 200;
constexpr int kPageMax = 1000;
constexpr int kPageDefault = 200;

// The same rule about the same event in the same content, asked for the same
// time.
bool SameReason(const v1::Occurrence& a, const v1::Occurrence& b) {
  return a.event_source() == b.event_source() && a.event_id() == b.event_id() &&
         a.corrected_by() == b.corrected_by() &&
         a.due().seconds() == b.due().seconds();
}

bool HasReason(const v1::Alert& alert, const v1::ShadowVerdict& verdict) {
  return alert.rule().rule() == verdict.rule() &&
         std::any_of(alert.occurrence().begin(), alert.occurrence().end(),
                     [&](const v1::Occurrence& reason) {
                       return SameReason(reason, verdict.occurrence());
                     });
}

v1::MissingInShadow MissingOf(const v1::Alert& alert,
                              const v1::Occurrence& reason) {
  v1::MissingInShadow missing;
  missing.set_alert_id(alert.alert_id());
  missing.set_site(alert.site());
  missing.set_participant(alert.participant());
  missing.set_rule(alert.rule().rule());
  missing.set_kind(alert.kind());
  *missing.mutable_occurrence() = reason;
  return missing;
}

}  // namespace

absl::StatusOr<std::shared_ptr<const Setup>> Core::ShadowSetup() {
  const v1::RuleVersion* const version = versions_.InShadow();
  if (version == nullptr) return std::shared_ptr<const Setup>();
  const absl::StatusOr<v1::Configuration> content = ContentOf(*version);
  if (!content.ok()) return content.status();
  return std::make_shared<const Setup>(*content, version->digest());
}

absl::StatusOr<v1::RuleVersion> Core::ShadowVersion(
    const v1::ShadowVersionRequest& request, const Caller& caller) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::Status status = RequireNote("reason", request.reason(),
                                    "why the version is to be tried out");
  if (!status.ok()) return status;
  const absl::StatusOr<v1::RuleVersion> version =
      versions_.Find(request.digest());
  if (!version.ok()) return version.status();
  if (request.stop() != version->has_shadow_since()) {
    return absl::FailedPreconditionError(
        request.stop() ? "this version is not in shadow"
                       : "this version is in shadow already");
  }
  const absl::StatusOr<v1::Configuration> content = ContentOf(*version);
  if (!content.ok()) return content.status();
  status = CheckMayActivate(caller, *content);
  if (!status.ok()) return status;
  const v1::Actor& by = caller.by;
  const Versions::Step step{by, request.reason(), Now()};
  Audit(by, request.stop() ? "version out of shadow" : "version in shadow",
        version->digest(), request.reason());
  // Everybody is looked at once, so that its questions are waited for as well.
  staged_.all_due_at = step.now;
  status = CommitVersions(
      request.stop() ? versions_.EndShadow(step)
                     : versions_.PutInShadow(*version, position_,
                                             next_alert_number_, step));
  if (!status.ok()) return status;
  const absl::StatusOr<std::shared_ptr<const Setup>> shadow = ShadowSetup();
  if (!shadow.ok()) return Break(shadow.status());
  Use(setup_, *shadow);
  return versions_.Find(version->digest());
}

absl::StatusOr<v1::VersionList> Core::ListVersions(
    const v1::ListVersionsRequest& /*request*/) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  v1::VersionList list;
  *list.mutable_now() = ToProto(Now());
  list.set_time_zone(configuration_->site(0).time_zone());
  for (v1::RuleVersion& version : versions_.All()) {
    *list.add_version() = std::move(version);
  }
  return list;
}

absl::StatusOr<v1::VersionContent> Core::GetVersion(
    const v1::GetVersionRequest& request) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::StatusOr<v1::RuleVersion> version =
      versions_.Find(request.digest());
  if (!version.ok()) return version.status();
  absl::StatusOr<v1::Configuration> configuration = ContentOf(*version);
  if (!configuration.ok()) return configuration.status();
  v1::VersionContent content;
  *content.mutable_version() = *version;
  *content.mutable_configuration() = *std::move(configuration);
  return content;
}

absl::Status Core::FillPage(const v1::ListShadowRequest& request, int page_size,
                            const SiteScope& scope, v1::ShadowPage& page) {
  absl::StatusOr<std::vector<v1::ShadowVerdict>> verdicts =
      store_->ShadowAfter(page.version().digest(), request.site(),
                          request.after_position(), page_size + 1, scope);
  if (!verdicts.ok()) return Break(verdicts.status());
  page.set_more(verdicts->size() > static_cast<size_t>(page_size));
  if (page.more()) verdicts->pop_back();
  std::map<ParticipantKey, std::vector<v1::Alert>> alerts_of;
  for (v1::ShadowVerdict& verdict : *verdicts) {
    const ParticipantKey key{verdict.site(), verdict.participant()};
    if (!alerts_of.contains(key)) {
      absl::StatusOr<std::vector<v1::Alert>> alerts =
          store_->AlertsOf(key, scope);
      if (!alerts.ok()) return Break(alerts.status());
      alerts_of[key] = *std::move(alerts);
    }
    for (const v1::Alert& alert : alerts_of[key]) {
      if (HasReason(alert, verdict)) verdict.set_alert_id(alert.alert_id());
    }
    *page.add_verdict() = std::move(verdict);
  }
  return absl::OkStatus();
}

absl::Status Core::FillMissing(const std::string& site, const SiteScope& scope,
                               v1::ShadowPage& page) {
  const absl::Time since = FromProto(page.version().shadow_since());
  int64_t position = page.version().shadow_from_position();
  while (page.missing_size() < kMissingMax) {
    const absl::StatusOr<std::vector<v1::Alert>> alerts =
        store_->AlertsAfterPosition(site, position, kAlertsAtOnce, scope);
    if (!alerts.ok()) return Break(alerts.status());
    if (alerts->empty()) return absl::OkStatus();
    position = alerts->back().position();
    for (const v1::Alert& alert : *alerts) {
      if (IsErased(alert)) continue;
      // Of an alert that was there, a reason of that very moment was there too.
      const bool was_there = AlertNumber(alert.alert_id()).value_or(0) <
                             page.version().shadow_from_alert();
      const absl::Duration earlier =
          was_there ? absl::Microseconds(1) : absl::ZeroDuration();
      const absl::StatusOr<std::vector<v1::ShadowVerdict>> verdicts =
          store_->ShadowOf(page.version().digest(),
                           {alert.site(), alert.participant()}, scope);
      if (!verdicts.ok()) return Break(verdicts.status());
      for (const v1::Occurrence& reason : alert.occurrence()) {
        if (FromProto(reason.raised_at()) < since + earlier) continue;
        const bool there = std::any_of(
            verdicts->begin(), verdicts->end(), [&](const auto& verdict) {
              return verdict.rule() == alert.rule().rule() &&
                     SameReason(reason, verdict.occurrence());
            });
        if (!there && page.missing_size() < kMissingMax) {
          *page.add_missing() = MissingOf(alert, reason);
        }
      }
    }
  }
  return absl::OkStatus();
}

absl::StatusOr<v1::ShadowPage> Core::ListShadow(
    const v1::ListShadowRequest& request, const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const int page_size =
      request.has_page_size() ? request.page_size() : kPageDefault;
  if (page_size < 1 || page_size > kPageMax) {
    return absl::InvalidArgumentError("pageSize: must be 1 to 1000");
  }
  if (!request.site().empty()) {
    const absl::StatusOr<std::string> known = SiteOrOnly(request.site());
    if (!known.ok()) return known.status();
  }
  v1::ShadowPage page;
  *page.mutable_now() = ToProto(Now());
  const v1::RuleVersion* const version = versions_.InShadow();
  if (version == nullptr) return page;
  *page.mutable_version() = *version;
  absl::Status status = FillPage(request, page_size, scope, page);
  if (status.ok() && request.after_position() == 0) {
    status = FillMissing(request.site(), scope, page);
  }
  if (!status.ok()) return status;
  return page;
}

absl::StatusOr<Core::EventPage> Core::EventsAfter(const std::string& site,
                                                  int64_t sequence, int limit,
                                                  const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::string> id = SiteOrOnly(site);
  if (!id.ok()) return id.status();
  absl::Status status = CheckMay(
      by, v1::ACTIVATE_RULES, "read the whole record", *setup_->FindSite(*id));
  if (!status.ok()) return status;
  EventPage page;
  page.site = *std::move(id);
  absl::StatusOr<std::vector<StoredEvent>> events =
      store_->EventsAfter(page.site, sequence, limit, SiteScope({page.site}));
  if (!events.ok()) return Break(events.status());
  page.events = *std::move(events);
  const absl::StatusOr<int64_t> total = store_->CountEvents(page.site);
  if (!total.ok()) return Break(total.status());
  page.total = *total;
  return page;
}

}  // namespace turnstone

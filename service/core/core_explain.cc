// What Core tells of why.
#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/check/suggest.h"
#include "service/core/core.h"
#include "service/core/erasure.h"
#include "service/core/explain.h"

namespace turnstone {
namespace {

std::vector<std::string> RuleIds(const Site& site) {
  std::vector<std::string> ids;
  ids.reserve(static_cast<size_t>(site.rules.rule_size()));
  for (const v1::Rule& rule : site.rules.rule()) ids.push_back(rule.id());
  return ids;
}

absl::Status NoSuchReason(const v1::Alert& alert) {
  const int last = alert.occurrence_size() - 1;
  return absl::NotFoundError(
      absl::StrCat("occurrence: ", alert.alert_id(), " has ", last + 1,
                   last == 0 ? " reason; send 0" : " reasons; send 0 to ",
                   last == 0 ? "" : absl::StrCat(last)));
}

}  // namespace

absl::StatusOr<std::shared_ptr<const Setup>> Core::SetupOf(
    const std::string& digest) {
  if (setup_->digest() == digest) return setup_;
  absl::StatusOr<std::optional<v1::Configuration>> content =
      store_->FindConfiguration(digest);
  if (!content.ok()) return Break(content.status());
  if (!content->has_value()) {
    return absl::DataLossError(absl::StrCat(
        "configuration ", digest,
        " is not on record; keep a copy of the store, then restore a backup"));
  }
  return std::make_shared<const Setup>(**content, digest);
}

absl::StatusOr<v1::AlertExplanation> Core::ExplainAlert(
    const v1::ExplainAlertRequest& request, const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::StatusOr<Resolved> found =
      ResolveAlert(request.alert_id(), scope);
  if (!found.ok()) return found.status();
  const auto& [participant, alert] = *found;
  if (absl::Status status = CheckNotErased(*alert); !status.ok()) {
    return status;
  }
  const int index = request.occurrence();
  if (index < 0 || index >= alert->occurrence_size()) {
    return NoSuchReason(*alert);
  }
  const absl::StatusOr<std::shared_ptr<const Setup>> then =
      SetupOf(ConfigurationOf(*alert, index));
  if (!then.ok()) return then.status();
  const absl::StatusOr<std::vector<StoredEvent>> events =
      store_->EventsOf(participant->key(), scope);
  if (!events.ok()) return Break(events.status());
  return ExplainReason(
      *alert, index, *events, **then,
      {*setup_, participant->site(), participant->history(), Now()});
}

absl::StatusOr<RuleAsked> Core::AskRule(const v1::ExplainRuleRequest& request,
                                        const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::StatusOr<std::string> id = SiteOrOnly(request.site());
  if (!id.ok()) return id.status();
  const ParticipantKey key{*id, request.participant()};
  absl::StatusOr<std::vector<StoredEvent>> events = KnownOf(key, scope);
  if (!events.ok()) return events.status();
  const Site& site = *setup_->FindSite(*id);
  const std::optional<int> rule = FindRule(request.rule(), site);
  if (!rule) {
    return absl::NotFoundError(
        absl::StrCat("rule: no rule \"", request.rule(), "\" is in force at ",
                     *id, "; ", Suggest(request.rule(), RuleIds(site))));
  }
  absl::StatusOr<std::vector<v1::Alert>> alerts = store_->AlertsOf(key, scope);
  if (!alerts.ok()) return Break(alerts.status());
  return RuleAsked{setup_, key, *rule, *std::move(events), *std::move(alerts),
                   Now()};
}

}  // namespace turnstone

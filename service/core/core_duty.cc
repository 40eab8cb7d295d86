// Who is on duty, and how one hands over to another.
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "service/core/core.h"
#include "service/core/duty_view.h"
#include "service/core/handover.h"
#include "service/core/owed.h"

namespace turnstone {
namespace {

constexpr int kAlertsInOnePage = 500;

v1::HandoverOffer* FindOffer(const std::string& role, v1::DutyRecord& duty) {
  for (v1::HandoverOffer& offer : *duty.mutable_offer()) {
    if (offer.role() == role) return &offer;
  }
  return nullptr;
}

// What the keys of its messages begin with.
std::string OfferKey(const Site& site, const v1::HandoverOffer& offer) {
  return absl::StrCat("hand-over/", site.config.id(), "/", offer.number());
}

}  // namespace

void Core::SetDuty(const v1::DutyRecord& duty) {
  duties_[duty.site()] = duty;
  const Site* const site = setup_->FindSite(duty.site());
  if (site != nullptr) swaps_[duty.site()] = SwapsOf(duty, site->team);
}

void Core::StageDuty(const v1::DutyRecord& duty) {
  SetDuty(duty);
  staged_duties_[duty.site()] = duty;
}

absl::StatusOr<Core::DutyPlace> Core::FindDuty(const std::string& site_id,
                                               const std::string& role) const {
  absl::StatusOr<std::string> id = SiteOrOnly(site_id);
  if (!id.ok()) return id.status();
  const Site* const site = setup_->FindSite(*id);
  const auto& rotas = site->team.rotas();
  if (role.empty() && rotas.size() == 1) return DutyPlace{site, rotas.data()};
  const Rota* const rota = site->team.FindRota(role);
  if (rota != nullptr) return DutyPlace{site, rota};
  std::string roles;
  for (const Rota& one : rotas) absl::StrAppend(&roles, " ", one.role());
  return absl::InvalidArgumentError(absl::StrCat(
      "role: ", role.empty() ? "missing" : absl::StrCat("\"", role, "\""),
      "; at ", *id, " these have a rota:", roles.empty() ? " none" : roles));
}

absl::StatusOr<v1::OnCall> Core::GetOnCall(
    const v1::GetOnCallRequest& request) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::string> id = SiteOrOnly(request.site());
  if (!id.ok()) return id.status();
  const Site& site = *setup_->FindSite(*id);
  const absl::Time at = request.has_at() ? FromProto(request.at()) : Now();
  const absl::Duration away = absl::AbsDuration(at - Now());
  if (away > absl::Hours(24 * 400)) {
    return absl::InvalidArgumentError("at: must be within 400 days from now");
  }
  v1::OnCall on_call;
  on_call.set_site(*id);
  on_call.set_time_zone(site.config.time_zone());
  *on_call.mutable_at() = ToProto(at);
  for (const Rota& rota : site.team.rotas()) {
    *on_call.add_duty() = DutyAt(rota, at, swaps_[*id]);
  }
  for (std::string& concern : ConcernsAt(site)) {
    on_call.add_concern(std::move(concern));
  }
  return on_call;
}

absl::StatusOr<v1::Handover> Core::GetHandover(
    const v1::GetHandoverRequest& request, const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<DutyPlace> place = FindDuty(request.site(), request.role());
  if (!place.ok()) return place.status();
  return HandoverView(*place, scope);
}

absl::StatusOr<v1::Handover> Core::HandoverView(const DutyPlace& place,
                                                const SiteScope& scope) {
  const std::string& site = place.site->config.id();
  v1::Handover view;
  view.set_site(site);
  view.set_time_zone(place.site->config.time_zone());
  *view.mutable_now() = ToProto(Now());
  *view.mutable_duty() = DutyAt(*place.rota, Now(), swaps_[site]);
  absl::StatusOr<std::vector<v1::Alert*>> open = OpenAlerts(site, scope);
  if (!open.ok()) return open.status();
  for (const v1::Alert* alert : *open) *view.add_alert() = *alert;
  const v1::HandoverOffer* const offer =
      FindOffer(place.rota->role(), duties_[site]);
  const auto& on_duty = view.duty().person();
  // One by somebody whose duty has ended meanwhile is over.
  if (offer != nullptr && Now() < FromProto(offer->lapses_at()) &&
      std::find(on_duty.begin(), on_duty.end(), offer->from()) !=
          on_duty.end()) {
    *view.mutable_offer() = *offer;
  }
  return view;
}

absl::StatusOr<std::vector<v1::Alert*>> Core::OpenAlerts(
    const std::string& site, const SiteScope& scope) {
  v1::ListAlertsRequest request;
  request.set_site(site);
  for (const v1::AlertStatus status :
       {v1::ALERT_STATUS_REQUESTED, v1::ALERT_STATUS_RECEIVED,
        v1::ALERT_STATUS_IN_PROGRESS, v1::ALERT_STATUS_ON_HOLD}) {
    request.add_status(status);
  }
  std::map<std::string, ParticipantKey> found;
  do {
    absl::StatusOr<AlertPage> page =
        store_->ListAlerts(request, kAlertsInOnePage, scope);
    if (!page.ok()) return Break(page.status());
    for (const v1::Alert& alert : page->alerts) {
      found[alert.alert_id()] = {alert.site(), alert.participant()};
    }
    request.set_page_token(page->next_page_token);
  } while (!request.page_token().empty());
  for (const auto& [id, alert] : staged_alerts_) {
    if (alert.site() == site) found[id] = {site, alert.participant()};
  }
  std::vector<v1::Alert*> open;
  for (const auto& [id, key] : found) {
    absl::StatusOr<Participant*> participant = participants_->Get(key);
    if (!participant.ok()) return Break(participant.status());
    v1::Alert* const alert = (*participant)->FindAlert(id);
    if (alert != nullptr && IsOpen(*alert)) open.push_back(alert);
  }
  std::sort(open.begin(), open.end(), &MorePressing);
  return open;
}

absl::StatusOr<v1::Handover> Core::StageOffer(
    const v1::OfferHandoverRequest& request, const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<DutyPlace> place = FindDuty(request.site(), request.role());
  if (!place.ok()) return place.status();
  const Site& site = *place->site;
  v1::DutyRecord duty = duties_[site.config.id()];
  duty.set_site(site.config.id());
  absl::StatusOr<v1::HandoverOffer> offer = MakeOffer(
      request, by, site, *place->rota, SwapsOf(duty, site.team), Now());
  if (!offer.ok()) return offer.status();
  duty.set_offers_made(duty.offers_made() + 1);
  offer->set_number(duty.offers_made());
  v1::HandoverOffer* const before = FindOffer(offer->role(), duty);
  if (before != nullptr) {
    absl::Status status = WithdrawUnder(OfferKey(site, *before));
    if (!status.ok()) return status;
  }
  (before == nullptr ? *duty.add_offer() : *before) = *offer;
  StageDuty(duty);
  const std::string key = OfferKey(site, *offer);
  for (v1::OwedMessage& message : MessagesTo(site, offer->to(), key, Now())) {
    message.set_priority(v1::PRIORITY_STAT);
    message.set_reason(absl::StrCat(by.name(),
                                    " would hand over to you; it is not done "
                                    "before you say yes"));
    staged_messages_[message.key()] = std::move(message);
  }
  Audit(by, "hand-over offered", site.config.id(),
        absl::StrCat(offer->role(), " to ", offer->to()));
  return HandoverView(*place, SiteScope::All());
}

absl::StatusOr<v1::Handover> Core::StageAnswer(
    const v1::AnswerHandoverRequest& request, const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<DutyPlace> place = FindDuty(request.site(), request.role());
  if (!place.ok()) return place.status();
  const Site& site = *place->site;
  v1::DutyRecord duty = duties_[site.config.id()];
  const absl::StatusOr<v1::HandoverOffer> offer =
      AnswerOffer(request.yes(), by, site, *place->rota, Now(), duty);
  if (!offer.ok()) return offer.status();
  absl::Status status = WithdrawUnder(OfferKey(site, *offer));
  if (status.ok() && request.yes()) status = PassAlerts(site, *offer, by);
  if (!status.ok()) return status;
  StageDuty(duty);
  Audit(by, request.yes() ? "hand-over taken" : "hand-over declined",
        site.config.id(), place->rota->role());
  return HandoverView(*place, SiteScope::All());
}

absl::Status Core::PassAlerts(const Site& site, const v1::HandoverOffer& offer,
                              const v1::Actor& by) {
  absl::StatusOr<std::vector<v1::Alert*>> open =
      OpenAlerts(site.config.id(), SiteScope::All());
  if (!open.ok()) return open.status();
  for (const v1::Alert* alert : *open) {
    absl::StatusOr<Participant*> participant =
        participants_->Get({alert->site(), alert->participant()});
    if (!participant.ok()) return Break(participant.status());
    absl::Status status = StageEffects(
        **participant, (*participant)
                           ->HandOver(alert->alert_id(), offer.from(), by,
                                      MomentAt(site.config.id())));
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

}  // namespace turnstone

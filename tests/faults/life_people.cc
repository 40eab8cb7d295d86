// What clients and people ask of a simulated service.
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iterator>

#include "service/core/alert_record.h"
#include "service/core/configuration.h"
#include "service/core/digest.h"
#include "tests/faults/ladder_model.h"
#include "tests/faults/life.h"
#include "tests/faults/sites.h"
#include "tests/faults/staff.h"

namespace turnstone::faults {
namespace {

v1::Actor Person(const std::string& name, const std::string& role) {
  v1::Actor actor;
  actor.set_name(name);
  actor.set_role(role);
  return actor;
}

// For the audit.
std::string ActionOf(const v1::WorkAlertRequest& request,
                     const v1::Alert& after) {
  switch (request.action_case()) {
    case v1::WorkAlertRequest::kReceive:
      return "alert received";
    case v1::WorkAlertRequest::kStart:
      return "alert started";
    case v1::WorkAlertRequest::kHold:
      return "alert put on hold";
    case v1::WorkAlertRequest::kNote:
      return "note added";
    case v1::WorkAlertRequest::kCancel:
      return "alert cancelled";
    case v1::WorkAlertRequest::kReopen:
      return "alert reopened";
    default:
      return IsOpen(after) ? "closing proposed" : "alert closed";
  }
}

bool IsAt(const std::string& person, const v1::SiteConfig& site) {
  return std::any_of(site.person().begin(), site.person().end(),
                     [&](const v1::Person& one) { return one.id() == person; });
}

// Having it already, they receive it again: nothing happens.
bool SaidBefore(const v1::WorkAlertRequest& request, const v1::Alert& after) {
  if (!request.has_receive() && !request.has_start()) return false;
  const std::string& note =
      request.has_receive() ? request.receive().note() : request.start().note();
  return std::none_of(after.history().begin(), after.history().end(),
                      [&](const v1::AlertChange& change) {
                        return absl::EndsWith(change.text(), note);
                      });
}

}  // namespace

void Life::Submit(CommitRound::Batch& batch) {
  for (Intake& intake : intakes_) {
    int64_t invented = random_.Below(2);
    if (Happens(swarm_.is_large)) invented = random_.Between(5, 20);
    for (int64_t i = 0; i < invented; ++i) intake.Invent(auditor_.now());
    for (Intake::Request* request : intake.Due(auditor_.now())) {
      auditor_.events().Sent(request->event);
      Say(absl::StrCat("submit ", request->event.ShortDebugString()));
      batch.changes.emplace_back([this, &intake, request](Core& core) {
        const absl::StatusOr<v1::SubmitResponse> staged =
            core.StageSubmit(request->event, Person("intake", "intake-system"));
        return [this, &intake, request, staged](const absl::Status& committed) {
          const bool refused = !staged.ok() || committed.ok();
          intake.Answered(
              *request,
              refused ? staged : absl::StatusOr<v1::SubmitResponse>(committed),
              auditor_.now(), auditor_.events());
        };
      });
    }
  }
}

void Life::Work(CommitRound::Batch& batch) {
  const auto& alerts = auditor_.alerts().seen();
  if (alerts.empty()) return;
  for (int64_t i = random_.Between(1, 3); i > 0; --i) {
    const v1::Alert& alert =
        std::next(alerts.begin(),
                  random_.Below(static_cast<int64_t>(alerts.size())))
            ->second;
    const int any = static_cast<int>(random_.Below(files_.site_size()));
    const v1::SiteConfig& site =
        Happens(50) ? files_.site(any) : *SiteNamed(alert.site(), files_);
    const v1::Actor by = AnyPerson(site, random_);
    const std::string note = absl::StrCat("n-", ++notes_);
    WorkOn(alert, AnyWork(alert, auditor_.now(), note, random_), by, batch);
  }
}

void Life::WorkOn(const v1::Alert& alert, const v1::WorkAlertRequest& request,
                  const v1::Actor& by, CommitRound::Batch& batch) {
  Say(absl::StrCat(by.name(), " on ", alert.alert_id(), ": ",
                   request.ShortDebugString()));
  batch.changes.emplace_back([this, request, by](Core& core) {
    const absl::StatusOr<v1::Alert> staged = core.StageWork(request, by);
    return [this, request, by, staged](const absl::Status& committed) {
      if (staged.ok() && committed.ok()) WorkDone(request, by, *staged);
    };
  });
}

void Life::WorkDone(const v1::WorkAlertRequest& request, const v1::Actor& by,
                    const v1::Alert& alert) {
  ++report_.answered;
  if (!IsAt(by.name(), *SiteNamed(alert.site(), files_))) {
    findings_.Add("BrokeScope", by.name(), " changed ", alert.alert_id(),
                  " of ", alert.site());
  }
  auditor_.alerts().Answered(alert);
  if (SaidBefore(request, alert)) return;
  auditor_.Done(ActionOf(request, alert), request.alert_id());
}

void Life::HandOver(CommitRound::Batch& batch) {
  if (!service_.runs()) return;
  const v1::SiteConfig& site =
      files_.site(static_cast<int>(random_.Below(files_.site_size())));
  if (Happens(500)) return OfferDuty(site, batch);
  AnswerOffer(site, batch);
}

void Life::OfferDuty(const v1::SiteConfig& site, CommitRound::Batch& batch) {
  v1::GetOnCallRequest ask;
  ask.set_site(site.id());
  const auto on_call = service_.core().GetOnCall(ask);
  if (!on_call.ok() || on_call->duty(0).person().empty()) return;
  v1::OfferHandoverRequest request;
  request.set_site(site.id());
  request.set_to(AnyPerson(site, random_).name());
  const v1::Actor by = Person(on_call->duty(0).person(0), "on-call-lead");
  batch.changes.emplace_back([this, request, by](Core& core) {
    const absl::Status staged = core.StageOffer(request, by).status();
    return [this, request, staged](const absl::Status& committed) {
      if (!staged.ok() || !committed.ok()) return;
      auditor_.Done("hand-over offered", request.site());
    };
  });
}

void Life::AnswerOffer(const v1::SiteConfig& site, CommitRound::Batch& batch) {
  v1::GetHandoverRequest ask;
  ask.set_site(site.id());
  const auto handover = service_.core().GetHandover(ask, SiteScope::All());
  if (!handover.ok() || !handover->has_offer()) return;
  v1::AnswerHandoverRequest request;
  request.set_site(site.id());
  request.set_yes(Happens(700));
  const v1::Actor by = Person(handover->offer().to(), "on-call-lead");
  batch.changes.emplace_back([this, request, by](Core& core) {
    const absl::Status staged = core.StageAnswer(request, by).status();
    return [this, request, staged](const absl::Status& committed) {
      if (!staged.ok() || !committed.ok()) return;
      auditor_.Done(request.yes() ? "hand-over taken" : "hand-over declined",
                    request.site());
    };
  });
}

void Life::Reload() {
  ChangeASite(random_, files_);
  const absl::Status status = service_.core().Activate(files_);
  Say(absl::StrCat("reload: ", status.ToString()));
  if (status.ok() || !service_.runs() || full_) return;
  findings_.Add("BrokeDurable",
                "a site's file is refused: ", status.ToString());
}

void Life::TouchShadow() {
  const v1::Actor lead = Person("p.wren", "programme-lead");
  v1::ShadowVersionRequest request;
  request.set_reason("to see what it would find");
  if (!shadow_.empty() && Happens(500)) {
    request.set_stop(true);
  } else {
    const v1::Configuration other = WithOtherRules(files_);
    if (!service_.core().Offer(other).ok()) return;
    shadow_ = DigestOf(other);
    auditor_.reasons().TakeShadow(shadow_);
  }
  request.set_digest(shadow_);
  const absl::Status status =
      service_.core().ShadowVersion(request, {lead, SiteScope::All()}).status();
  Say(absl::StrCat("shadow: ", status.ToString()));
}

void Life::CloseEverything(CommitRound::Batch& batch) {
  for (const auto& [id, alert] : auditor_.alerts().seen()) {
    if (!IsOpen(alert) || Happens(200)) continue;
    v1::WorkAlertRequest request;
    request.set_alert_id(id);
    v1::Actor by = Person("p.wren", "programme-lead");
    if (alert.has_proposed_closing()) {
      request.mutable_confirm()->set_note(absl::StrCat("n-", ++notes_));
      if (alert.proposed_closing().by().name() == "p.wren") {
        by = Person("k.heron", "on-call-lead");
      }
    } else {
      request.mutable_close()->set_outcome("visit-arranged");
      request.mutable_close()->set_note(absl::StrCat("n-", ++notes_));
    }
    WorkOn(alert, request, by, batch);
  }
}

}  // namespace turnstone::faults

// What Core does with events and with people's work on alerts.
#include <absl/strings/str_cat.h>
#include <google/protobuf/util/message_differencer.h>

#include "rules/check/event_check.h"
#include "rules/measure/proto_time.h"
#include "service/core/core.h"
#include "service/core/erasure.h"

namespace turnstone {
namespace {

v1::SubmitResponse AnswerFor(const StoredEvent& stored, bool repeated) {
  v1::SubmitResponse response;
  *response.mutable_recorded_time() = ToProto(stored.recorded);
  response.set_sequence(stored.sequence);
  for (const std::string& id : stored.alert_ids) response.add_alert_id(id);
  response.set_repeated_submission(repeated);
  return response;
}

}  // namespace

absl::StatusOr<std::optional<v1::SubmitResponse>> Core::AnsweredBefore(
    const v1::Event& event) {
  std::optional<StoredEvent> before;
  const auto staged = staged_events_.find({event.source(), event.event_id()});
  if (staged != staged_events_.end()) {
    before = staged_.events[staged->second];
  } else {
    auto found = store_->FindEvent(event.source(), event.event_id());
    if (!found.ok()) return Break(found.status());
    before = *std::move(found);
  }
  if (!before) return std::optional<v1::SubmitResponse>();
  // Of an event that was erased, no more is known than its site and answer.
  const bool same = before->erased
                        ? before->event.site() == event.site()
                        : google::protobuf::util::MessageDifferencer::Equals(
                              before->event, event);
  if (!same) {
    return absl::AlreadyExistsError(absl::StrCat(
        "eventId: \"", event.event_id(), "\" from source \"", event.source(),
        "\" was accepted before with other content; nothing was changed. Send "
        "a new fact under a new eventId, or a correction of this one"));
  }
  return std::optional(AnswerFor(*before, true));
}

absl::StatusOr<v1::SubmitResponse> Core::StageSubmit(const v1::Event& event,
                                                     const v1::Actor& by) {
  absl::StatusOr<v1::SubmitResponse> answer = TakeIn(event, by);
  Count(answer);
  return answer;
}

absl::StatusOr<v1::SubmitResponse> Core::TakeIn(const v1::Event& event,
                                                const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::optional<v1::SubmitResponse>> before =
      AnsweredBefore(event);
  if (!before.ok()) return before.status();
  if (before->has_value()) return **before;
  if (room() != Room::kEnough) {
    return absl::ResourceExhaustedError(
        "not accepted: the service is short of disk space and takes no new "
        "events until there is more; keep the event and repeat the call. "
        "Whoever runs the service: free space where it keeps its data");
  }
  const absl::Time now = Now();
  if (absl::Status status = CheckEvent(event, *setup_, now); !status.ok()) {
    return status;
  }
  absl::StatusOr<Participant*> participant =
      participants_->Get({event.site(), event.participant()});
  if (!participant.ok()) return Break(participant.status());
  const absl::StatusOr<Participant::Effects> effects =
      (*participant)->TakeIn(event, MomentAt(event.site()));
  if (!effects.ok()) return effects.status();

  StoredEvent stored{next_sequence_++, now, by, event, effects->raised};
  stored.alert_ids.insert(stored.alert_ids.end(), effects->changed.begin(),
                          effects->changed.end());
  staged_events_[{event.source(), event.event_id()}] = staged_.events.size();
  v1::SubmitResponse answer = AnswerFor(stored, false);
  staged_.events.push_back(std::move(stored));
  Audit(by, "event accepted",
        absl::StrCat(event.source(), " ", event.event_id()), "");
  absl::Status status = StageEffects(**participant, *effects);
  if (!status.ok()) return status;
  return answer;
}

absl::StatusOr<Core::Resolved> Core::ResolveAlert(const std::string& alert_id,
                                                  const SiteScope& scope) {
  absl::StatusOr<std::optional<v1::Alert>> stored =
      store_->FindAlert(alert_id, scope);
  if (!stored.ok()) return Break(stored.status());
  if (!stored->has_value()) {
    return absl::NotFoundError(
        absl::StrCat("there is no alert \"", alert_id,
                     "\"; list them to see the ids in use, e.g. A-17"));
  }
  absl::StatusOr<Participant*> participant =
      participants_->Get({(*stored)->site(), (*stored)->participant()});
  if (!participant.ok()) return Break(participant.status());
  return Resolved{*participant, (*participant)->FindAlert(alert_id)};
}

absl::StatusOr<v1::Alert> Core::StageWork(const v1::WorkAlertRequest& request,
                                          const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<Resolved> found =
      ResolveAlert(request.alert_id(), SiteScope::All());
  if (!found.ok()) return found.status();
  if (absl::Status status = CheckNotErased(*found->second); !status.ok()) {
    return status;
  }
  Participant& participant = *found->first;
  const absl::StatusOr<Participant::WorkEffects> done =
      participant.WorkOn(request, by, MomentAt(participant.key().site));
  if (!done.ok()) return done.status();
  if (!done->action.empty()) {
    Audit(by, done->action, request.alert_id(), "", participant.key());
    absl::Status status = StageEffects(participant, done->effects);
    if (!status.ok()) return status;
  }
  return *participant.FindAlert(done->alert_id);
}

}  // namespace turnstone

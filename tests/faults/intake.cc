#include "tests/faults/intake.h"

#include <absl/strings/str_cat.h>

#include "rules/measure/proto_time.h"
#include "tests/faults/facts.h"

namespace turnstone::faults {
namespace {

// The answer tells nothing of whether it happened, or says to try again.
bool IsNoAnswer(const absl::Status& status) {
  return absl::IsUnavailable(status) || absl::IsResourceExhausted(status);
}

}  // namespace

void Intake::Invent(absl::Time now) {
  const std::string id = absl::StrCat("e-", ++invented_);
  const absl::Duration ago = random_.PerMille(swarm_.is_late)
                                 ? absl::Hours(random_.Below(int64_t{20} * 24))
                                 : absl::Minutes(random_.Below(60));
  v1::Event event;
  if (!accepted_.empty() && random_.PerMille(swarm_.is_correction)) {
    event = AnyCorrection(id, now, random_.OneOf(accepted_), random_);
  } else {
    event = AnyFact(id, now - ago, random_);
    const ParticipantKey& key = random_.OneOf(participants_);
    event.set_source(source_);
    event.set_site(key.site);
    event.set_participant(key.participant);
  }
  const bool wrong = random_.PerMille(swarm_.is_wrong);
  if (wrong) Spoil(now, random_, event);
  requests_.push_back({event, wrong, now});
}

std::vector<Intake::Request*> Intake::Due(absl::Time now) {
  std::vector<Request*> due;
  for (Request& request : requests_) {
    if (request.next_try <= now) due.push_back(&request);
  }
  return due;
}

void Intake::Answered(Request& request,
                      const absl::StatusOr<v1::SubmitResponse>& answer,
                      absl::Time now, EventWatch& watch) {
  const bool lost = random_.PerMille(swarm_.answer_lost);
  if (lost || IsNoAnswer(answer.status())) {
    request.next_try = now + absl::Seconds(random_.Between(1, 900));
    return;
  }
  if (answer.ok()) {
    if (request.wrong) {
      watch.AcceptedThoughWrong(request.event);
    } else {
      watch.Accepted(request.event, *answer);
      if (!request.event.has_correction() && !answer->repeated_submission()) {
        accepted_.push_back(request.event);
      }
      SendAgain(request, now);
    }
  } else {
    watch.Refused(request.event, answer.status(), request.wrong);
  }
  requests_.remove_if([&](const Request& one) { return &one == &request; });
}

void Intake::SendAgain(const Request& request, absl::Time now) {
  const absl::Time later = now + absl::Minutes(random_.Below(int64_t{48} * 60));
  if (random_.PerMille(swarm_.sent_again)) {
    requests_.push_back({request.event, false, later});
  }
  if (!random_.PerMille(swarm_.sent_with_other_content)) return;
  v1::Event other = request.event;
  *other.mutable_effective_time() =
      ToProto(FromProto(other.effective_time()) - absl::Seconds(1));
  requests_.push_back({other, false, later});
}

void Intake::Hurry(absl::Time now) {
  for (Request& request : requests_) request.next_try = now;
}

}  // namespace turnstone::faults

// The same event once more, the day before.
#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/examples/event_steps.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/score.h"

namespace turnstone {
namespace {

// How much higher the total is in `after`; 0 where one of them has none.
int MovedBy(const v1::Event& before, const v1::Event& after,
            const Catalogue& catalogue) {
  const Scale* scale = catalogue.Find(before.screening_result().instrument());
  if (scale == nullptr) return 0;
  const auto old_score = ScoreForm(*scale, before.screening_result());
  const auto new_score = ScoreForm(*scale, after.screening_result());
  if (!old_score.ok() || !new_score.ok()) return 0;
  if (old_score->answered_items != new_score->answered_items) return 0;
  return new_score->total.low - old_score->total.low;
}

}  // namespace

void EventSteps::OnceMore() {
  if (!event_.has_screening_result() && !event_.has_visit_outcome()) return;
  v1::Event further = event_;
  further.set_event_id(absl::StrCat(event_.event_id(), "-more"));
  *further.mutable_effective_time() =
      ToProto(FromProto(event_.effective_time()) - absl::Hours(24));
  if (further.has_visit_outcome()) {
    v1::VisitOutcome& outcome = *further.mutable_visit_outcome();
    outcome.set_visit(absl::StrCat(outcome.visit(), "-more"));
  }
  const auto add = [&](v1::Event event, const char* but) {
    steps_->push_back({StepSize::kOneEvent, std::move(event), at_, true,
                       absl::StrCat("there were one more like ", phrase_,
                                    " the day before", but)});
  };
  add(further, "");
  if (!further.has_screening_result()) return;
  // Alike but for the total.
  std::vector<Step> otherwise;
  EventSteps form(further, at_, catalogue_, options_);
  form.steps_ = &otherwise;
  form.OfForm();
  for (const bool worse : {false, true}) {
    for (const Step& step : otherwise) {
      const int change = MovedBy(further, *step.instead, catalogue_);
      if (worse ? change <= 0 : change >= 0) continue;
      add(*step.instead, worse ? ", a step higher" : ", a step lower");
      break;
    }
  }
}

}  // namespace turnstone

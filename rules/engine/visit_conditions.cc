// Conditions on visits, enrolment and practice.
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"

namespace turnstone {

Observation ObserveEnrolled(const View& view) {
  if (view.Enrolled()) {
    return Saw(v1::TRUTH_TRUE, view,
               [&] { return "the participant is enrolled"; });
  }
  return Saw(v1::TRUTH_FALSE, view, [&] {
    return view.Discharged() ? "the participant was discharged"
                             : "the participant is not enrolled";
  });
}

Observation ObserveDischargedAs(const v1::DischargedAs& condition,
                                const View& view) {
  if (!view.Discharged()) {
    return Saw(v1::TRUTH_FALSE, view,
               [&] { return "the participant was not discharged"; });
  }
  const auto& wanted = condition.reason();
  const bool found = std::find(wanted.begin(), wanted.end(),
                               view.DischargeReason()) != wanted.end();
  return Saw(TruthOf(found), view, [&] {
    return absl::StrCat("the participant was discharged: ",
                        DischargeInWords(view.DischargeReason()));
  });
}

Observation ObserveContactSince(const View& view) {
  const Fact& subject = view.subject();
  bool later = false;
  for (const Fact& fact : view.Facts()) {
    if (later && IsContact(fact)) {
      return Saw(v1::TRUTH_TRUE, view, [&] {
        return absl::StrCat("there was a contact on ", view.Day(fact.effective),
                            " (", FactInWords(fact), ")");
      });
    }
    later = later || &fact == &subject;
  }
  return Saw(v1::TRUTH_FALSE, view, [&] {
    return absl::StrCat("there was no contact after ",
                        view.Day(subject.effective), " (", FactInWords(subject),
                        ")");
  });
}

Observation ObserveMissedInARow(const v1::MissedInARow& condition,
                                const View& view) {
  const int missed = view.MissedInARow();
  const auto* visit = view.subject().As<VisitResult>();
  const Truth truth = TruthOf(missed >= condition.at_least().value());
  return Saw(truth, view, [&] {
    std::string text = absl::StrCat(Count(missed, "visit"), " missed in a row");
    if (visit != nullptr && missed > 0) {
      absl::StrAppend(&text, ", the latest on ",
                      view.Day(view.subject().effective), " (",
                      OutcomeInWords(visit->outcome), ")");
    }
    return text;
  });
}

Observation ObserveVisitAccountedFor(const View& view) {
  const auto* plan = view.subject().As<PlannedVisit>();
  if (plan == nullptr)
    return Saw(v1::TRUTH_UNKNOWN, view, [&] { return "this is not a plan"; });
  const auto saw = [&](Truth truth, const auto& became) {
    return Saw(truth, view, [&] {
      return absl::StrCat(plan->visit, ", planned for ", view.Day(plan->start),
                          became());
    });
  };
  bool after_subject = false;
  for (const Fact& fact : view.Facts()) {
    // An outcome from before this plan belongs to an earlier plan of the same
    // visit, and says nothing about this one.
    if (fact.effective < view.subject().effective) continue;
    const auto* outcome = fact.As<VisitResult>();
    if (outcome != nullptr && outcome->visit == plan->visit) {
      return saw(v1::TRUTH_TRUE, [&] {
        return absl::StrCat(": ", OutcomeInWords(outcome->outcome));
      });
    }
    const auto* later = fact.As<PlannedVisit>();
    if (after_subject && later != nullptr && later->visit == plan->visit) {
      return saw(v1::TRUTH_TRUE, [&] {
        return absl::StrCat(", was moved to ", view.Day(later->start));
      });
    }
    if (&fact == &view.subject()) after_subject = true;
  }
  if (view.Discharged()) {
    return saw(v1::TRUTH_TRUE,
               [] { return ", fell away: the participant was discharged"; });
  }
  return saw(v1::TRUTH_FALSE, [] { return ", has no outcome recorded"; });
}

Observation ObserveAttendedVisits(const v1::AttendedVisits& condition,
                                  const View& view) {
  const int attended = view.AttendedVisits(
      condition.by_asking() ? view.due() : view.subject().effective);
  const int least = condition.has_at_least() ? condition.at_least().value()
                                             : view.PlannedVisits();
  const Truth truth = TruthOf(attended >= least);
  return Saw(truth, view, [&] {
    return absl::StrCat(Count(attended, "visit"), " attended, ", Verdict(truth),
                        " ", least, " or more");
  });
}

Observation ObserveConfidenceBelow(const v1::ConfidenceBelow& condition,
                                   const View& view) {
  const auto* practice = view.subject().As<Practice>();
  if (practice == nullptr || !practice->confidence) {
    return Saw(v1::TRUTH_UNKNOWN, view, [&] {
      return "the confidence in doing the practice was not asked";
    });
  }
  const int percent = condition.percent().value();
  const Truth truth = TruthOf(*practice->confidence < percent);
  return Saw(truth, view, [&] {
    return absl::StrCat("confidence in doing the practice is ",
                        *practice->confidence, " %, ", Verdict(truth),
                        " below ", percent, " %");
  });
}

}  // namespace turnstone

#include "rules/engine/wording.h"

#include <absl/strings/ascii.h>
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>

#include <algorithm>
#include <vector>

namespace turnstone {
namespace {

// "12" or "18 to 21", with the band if there is one.
std::string Range(const Screening& form) {
  const Interval total = form.score.total;
  std::string text = total.IsPoint()
                         ? absl::StrCat(total.low)
                         : absl::StrCat(total.low, " to ", total.high);
  const std::string band = form.scale->BandFor(total);
  if (!band.empty()) absl::StrAppend(&text, " (", band, ")");
  return text;
}

// Leaves whose truth, read through every "not" above them, made the whole
// come out as it did.
void Deciding(const v1::ConditionTrace& trace, Truth wanted,
              std::vector<std::string>& texts) {
  if (trace.part().empty()) {
    if (trace.truth() == wanted) texts.push_back(trace.text());
    return;
  }
  const Truth inner = trace.text() == "not" ? Not(wanted) : wanted;
  for (const v1::ConditionTrace& part : trace.part()) {
    Deciding(part, inner, texts);
  }
}

// What another part says in more words is said once.
void DropRepeats(std::vector<std::string>& texts) {
  const std::vector<std::string> all = texts;
  const auto is_said = [&all](const std::string& text) {
    return std::any_of(all.begin(), all.end(), [&](const std::string& other) {
      return other.size() > text.size() && absl::StartsWith(other, text);
    });
  };
  texts.erase(std::remove_if(texts.begin(), texts.end(), is_said), texts.end());
}

std::string ResultLabel(const Screening& form) {
  return form.scale->FindResult(*form.score.result)->label();
}

// What must not be overlooked behind a low total.
std::string SelfHarmMark(const Screening& form) {
  const std::optional<Truth> said = SelfHarmOf(form);
  if (said == v1::TRUTH_UNKNOWN) return "; no answer to the self-harm item";
  return said == v1::TRUTH_TRUE ? "; self-harm item positive" : "";
}

struct ToWords {
  std::string operator()(const Screening& form) const {
    if (form.score.result) {
      return absl::StrCat(form.scale->definition().name(), ": ",
                          ResultLabel(form));
    }
    return absl::StrCat(form.scale->definition().name(), " ", Range(form),
                        SelfHarmMark(form));
  }
  std::string operator()(const PlannedVisit& plan) const {
    return absl::StrCat(plan.visit, ": planned");
  }
  std::string operator()(const VisitResult& visit) const {
    return absl::StrCat(visit.visit, ": ", OutcomeInWords(visit.outcome));
  }
  std::string operator()(const Practice& practice) const {
    if (!practice.confidence) return "practice: confidence not asked";
    return absl::StrCat("practice: confidence ", *practice.confidence, " %");
  }
  std::string operator()(const EnrolmentFact& /*enrolment*/) const {
    return "enrolled in the programme";
  }
  std::string operator()(const DischargeFact& discharge) const {
    return absl::StrCat("discharged: ", DischargeInWords(discharge.reason));
  }
};

}  // namespace

std::string Verdict(Truth truth) {
  if (truth == v1::TRUTH_TRUE) return "which is";
  if (truth == v1::TRUTH_FALSE) return "which is not";
  return "which may or may not be";
}

std::string Count(int count, const std::string& noun) {
  return absl::StrCat(count, " ", noun, count == 1 ? "" : "s");
}

std::string TotalInWords(const Screening& form) {
  std::string text = absl::StrCat(
      "the ", form.scale->definition().name(), " total ",
      form.score.total.IsPoint() ? "is " : "lies in ", Range(form));
  const int missing = form.score.scored_items - form.score.answered_items;
  if (missing > 0 && form.score.answered_items > 0) {
    absl::StrAppend(&text, " with ", Count(missing, "answer"), " missing");
  }
  return text;
}

std::string ShortTotal(const Fact& fact) {
  const Interval total = fact.As<Screening>()->score.total;
  return total.IsPoint() ? absl::StrCat(total.low)
                         : absl::StrCat(total.low, "-", total.high);
}

std::string NothingEarlier(const std::string& instrument) {
  return absl::StrCat("there is no earlier ", instrument, " to compare with");
}

std::string FactInWords(const Fact& fact) {
  return std::visit(ToWords{}, fact.content);
}

std::string OutcomeInWords(v1::VisitOutcomeKind outcome) {
  switch (outcome) {
    case v1::VISIT_OUTCOME_KIND_ATTENDED:
      return "attended";
    case v1::VISIT_OUTCOME_KIND_NO_ANSWER:
      return "no answer";
    case v1::VISIT_OUTCOME_KIND_REFUSED_AT_DOOR:
      return "refused at the door";
    case v1::VISIT_OUTCOME_KIND_CANCELLED_WITH_NOTICE:
      return "cancelled with notice";
    case v1::VISIT_OUTCOME_KIND_CANCELLED_BY_STAFF:
      return "cancelled by the team";
    case v1::VISIT_OUTCOME_KIND_UNABLE:
      return "unable (hospital, bereavement)";
    default:
      return "outcome not known";
  }
}

std::string DischargeInWords(v1::DischargeReason reason) {
  return absl::StrReplaceAll(
      absl::AsciiStrToLower(v1::DischargeReason_Name(reason)),
      {{"discharge_reason_", ""}, {"_", " "}});
}

std::string CourseInWords(v1::CourseOutcome outcome) {
  switch (outcome) {
    case v1::COURSE_OUTCOME_WORSE:
      return "reliably worse";
    case v1::COURSE_OUTCOME_REMISSION:
      return "in remission";
    case v1::COURSE_OUTCOME_RESPONSE:
      return "a response";
    case v1::COURSE_OUTCOME_PARTIAL:
      return "a partial response";
    case v1::COURSE_OUTCOME_NO_CHANGE:
      return "no reliable change";
    default:
      return "not known";
  }
}

std::string ResultInWords(const Screening& form) {
  return absl::StrCat("the ", form.scale->definition().name(),
                      " result is: ", ResultLabel(form));
}

std::string WhyInWords(const v1::ConditionTrace& trace) {
  std::vector<std::string> texts;
  Deciding(trace, trace.truth(), texts);
  DropRepeats(texts);
  std::string sentence = absl::StrJoin(texts, "; ");
  if (trace.truth() == v1::TRUTH_UNKNOWN) {
    return absl::StrCat(
        "To be checked by a person, information is missing: ", sentence, ".");
  }
  if (!sentence.empty())
    sentence[0] = absl::ascii_toupper(static_cast<unsigned char>(sentence[0]));
  return absl::StrCat(sentence, ".");
}

}  // namespace turnstone

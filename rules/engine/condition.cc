#include "rules/engine/condition.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>

#include <utility>
#include <vector>

namespace turnstone {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

Observation Observe(const v1::Condition& condition, const View& view) {
  if (view.Facts().size() > kFactsMax) {
    return {v1::TRUTH_UNKNOWN, "there is more on record than can be looked at"};
  }
  switch (condition.kind_case()) {
    case v1::Condition::kScore:
      return ObserveScore(condition.score(), view);
    case v1::Condition::kItem:
      return ObserveItem(condition.item(), view);
    case v1::Condition::kItemUnanswered:
      return ObserveItemUnanswered(condition.item_unanswered(), view);
    case v1::Condition::kTotalDisagrees:
      return ObserveTotalDisagrees(view);
    case v1::Condition::kWilling:
      return ObserveWilling(view);
    case v1::Condition::kWishRecorded:
      return ObserveWishRecorded(view);
    case v1::Condition::kEnrolled:
      return ObserveEnrolled(view);
    case v1::Condition::kWorseBy:
      return ObserveWorse(condition.worse_by(), view);
    case v1::Condition::kBetterBy:
      return ObserveBetter(condition.better_by(), view);
    case v1::Condition::kTrend:
      return ObserveTrend(condition.trend(), view);
    case v1::Condition::kOutcome:
      return ObserveOutcome(condition.outcome(), view);
    case v1::Condition::kScreenings:
      return ObserveScreenings(condition.screenings(), view);
    case v1::Condition::kResult:
      return ObserveResult(condition.result(), view);
    case v1::Condition::kContactSince:
      return ObserveContactSince(view);
    case v1::Condition::kDischargedAs:
      return ObserveDischargedAs(condition.discharged_as(), view);
    case v1::Condition::kWorseInARow:
      return ObserveRises(condition.worse_in_a_row(), view);
    case v1::Condition::kMissedInARow:
      return ObserveMissedInARow(condition.missed_in_a_row(), view);
    case v1::Condition::kSelfHarmEarlier:
      return ObserveSelfHarmEarlier(condition.self_harm_earlier(), view);
    case v1::Condition::kVisitAccountedFor:
      return ObserveVisitAccountedFor(view);
    case v1::Condition::kAttendedVisits:
      return ObserveAttendedVisits(condition.attended_visits(), view);
    case v1::Condition::kConfidenceBelow:
      return ObserveConfidenceBelow(condition.confidence_below(), view);
    case v1::Condition::kScreenedWithin:
      return ObserveScreenedWithin(condition.screened_within(), view);
    case v1::Condition::kAllOf:
    case v1::Condition::kAnyOf:
    case v1::Condition::kNot:
    case v1::Condition::KIND_NOT_SET:
      break;
  }
  // A condition this program does not know must not pass for "no".
  return {v1::TRUTH_UNKNOWN, "the condition is not known to this program"};
}

// "item unanswered": the field of rule.proto, in plain writing.
std::string NameOf(const v1::Condition& condition) {
  const FieldDescriptor* kind =
      condition.GetReflection()->GetOneofFieldDescriptor(
          condition, condition.GetDescriptor()->FindOneofByName("kind"));
  if (kind == nullptr) return "";
  return absl::StrReplaceAll(kind->name(), {{"_", " "}});
}

// Names every setting a condition's numbers come from, and whose they are.
void NameSettings(const Message& message, const Site& site,
                  v1::ConditionTrace* trace) {
  std::vector<const FieldDescriptor*> fields;
  message.GetReflection()->ListFields(message, &fields);
  for (const FieldDescriptor* field : fields) {
    if (field->cpp_type() != FieldDescriptor::CPPTYPE_MESSAGE) continue;
    if (field->is_repeated()) continue;
    const Message& part = message.GetReflection()->GetMessage(message, field);
    if (part.GetDescriptor() != v1::Number::descriptor()) {
      NameSettings(part, site, trace);
      continue;
    }
    const auto& number = static_cast<const v1::Number&>(part);
    if (!number.has_setting()) continue;
    const SettingInForce& setting = site.settings.at(number.setting());
    trace->add_setting(absl::StrCat(number.setting(), " = ", setting.value,
                                    " (", setting.whose, ")"));
  }
}

Truth EvaluateList(const v1::Conditions& list, bool all, const View& view,
                   v1::ConditionTrace* trace) {
  Truth truth = TruthOf(all);
  for (const v1::Condition& condition : list.condition()) {
    v1::ConditionTrace* part = trace == nullptr ? nullptr : trace->add_part();
    const Truth next = Evaluate(condition, view, part);
    truth = all ? And(truth, next) : Or(truth, next);
    // Nothing that follows can change it, and nobody wants to read it.
    if (trace == nullptr && truth == TruthOf(!all)) break;
  }
  if (trace != nullptr) trace->set_text(all ? "all of" : "any of");
  return truth;
}

Truth EvaluateNot(const v1::Condition& condition, const View& view,
                  v1::ConditionTrace* trace) {
  v1::ConditionTrace* part = trace == nullptr ? nullptr : trace->add_part();
  if (trace != nullptr) trace->set_text("not");
  return Not(Evaluate(condition, view, part));
}

}  // namespace

size_t RowLength(const v1::Number& in_a_row) {
  return in_a_row.has_value() ? static_cast<size_t>(in_a_row.value()) : 1;
}

Truth Evaluate(const v1::Condition& condition, const View& view,
               v1::ConditionTrace* trace) {
  Truth truth = v1::TRUTH_UNKNOWN;
  if (condition.has_all_of()) {
    truth = EvaluateList(condition.all_of(), true, view, trace);
  } else if (condition.has_any_of()) {
    truth = EvaluateList(condition.any_of(), false, view, trace);
  } else if (condition.has_not_()) {
    truth = EvaluateNot(condition.not_(), view, trace);
  } else {
    Observation observation =
        Observe(condition, trace == nullptr ? view : view.InWords());
    truth = observation.truth;
    if (trace != nullptr) {
      trace->set_text(std::move(observation.text));
      trace->set_condition(NameOf(condition));
      NameSettings(condition, view.site(), trace);
    }
  }
  if (trace != nullptr) trace->set_truth(truth);
  return truth;
}

}  // namespace turnstone

#include "rules/check/review.h"

#include <algorithm>
#include <set>

#include "rules/check/review_condition.h"
#include "rules/check/review_division.h"
#include "rules/check/review_examples.h"
#include "rules/check/review_twins.h"
#include "rules/examples/example_setup.h"

namespace turnstone {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

// Every value of a field named "instrument" in `message`, however deep.
void CollectInstruments(const Message& message, std::set<std::string>& found) {
  const google::protobuf::Reflection& reflection = *message.GetReflection();
  std::vector<const FieldDescriptor*> fields;
  reflection.ListFields(message, &fields);
  for (const FieldDescriptor* field : fields) {
    const bool text = field->cpp_type() == FieldDescriptor::CPPTYPE_STRING;
    const bool part = field->cpp_type() == FieldDescriptor::CPPTYPE_MESSAGE;
    if (!part && !(text && field->name() == "instrument")) continue;
    if (!field->is_repeated()) {
      if (text) found.insert(reflection.GetString(message, field));
      if (part) {
        CollectInstruments(reflection.GetMessage(message, field), found);
      }
      continue;
    }
    for (int i = 0; i < reflection.FieldSize(message, field); ++i) {
      if (text) found.insert(reflection.GetRepeatedString(message, field, i));
      if (part) {
        CollectInstruments(reflection.GetRepeatedMessage(message, field, i),
                           found);
      }
    }
  }
}

// Whether everything the rules rest on was given.
bool CanBeTried(const v1::RuleSet& rules, const Known& known) {
  const bool numbers = std::all_of(
      rules.setting().begin(), rules.setting().end(),
      [](const v1::Setting& setting) { return setting.has_value(); });
  std::set<std::string> instruments;
  for (const v1::Rule& rule : rules.rule()) {
    CollectInstruments(rule.when(), instruments);
    CollectInstruments(rule.condition(), instruments);
  }
  for (const v1::Division& division : rules.division()) {
    CollectInstruments(division, instruments);
  }
  // An example that names another is at fault itself.
  return numbers && !known.instruments.empty() &&
         std::all_of(instruments.begin(), instruments.end(),
                     [&known](const std::string& instrument) {
                       return known.instruments.contains(instrument);
                     });
}

}  // namespace

std::optional<Coverage> ReviewRuleSet(const v1::RuleSet& rules,
                                      const Place& file, const Known& known) {
  if (!CanBeTried(rules, known)) return std::nullopt;
  std::vector<const v1::Instrument*> instruments;
  instruments.reserve(known.instruments.size());
  for (const auto& [id, scale] : known.instruments) {
    instruments.push_back(&scale->definition());
  }
  const Setup setup = SetUpExamples(rules, instruments);
  Coverage coverage{rules.id()};
  for (int i = 0; i < rules.rule_size(); ++i) {
    const Place place = file.At("rule", i);
    ReviewCondition(setup, i, ReviewExamples(setup, i, place), place, coverage);
  }
  ReviewTwins(rules, file);
  for (int i = 0; i < rules.division_size(); ++i) {
    ReviewDivision(setup, i, file.At("division", i));
  }
  return coverage;
}

}  // namespace turnstone

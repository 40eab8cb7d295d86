#include "rules/engine/rule_terms.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>

#include "rules/engine/wording.h"

namespace turnstone {
namespace {

const char* const kContacts =
    "(enrolment, screening, attended visit or practice report)";

}  // namespace

std::string Alternatives(const std::vector<std::string>& words) {
  if (words.size() < 2) return absl::StrJoin(words, "");
  return absl::StrCat(absl::StrJoin(words.begin(), words.end() - 1, ", "),
                      " or ", words.back());
}

// Instruments' names are read letter by letter, or as words.
std::string WithArticle(const std::string& words) {
  const bool vowel = std::string("AEIO").find(words[0]) != std::string::npos;
  return absl::StrCat(vowel ? "an " : "a ", words);
}

std::string Quoted(const std::vector<std::string>& words) {
  std::vector<std::string> quoted;
  quoted.reserve(words.size());
  for (const std::string& word : words) {
    quoted.push_back(absl::StrCat("\"", word, "\""));
  }
  return Alternatives(quoted);
}

EventWords RuleTerms::Event() const {
  switch (rule_.when().event_case()) {
    case v1::Occasion::kScreening: {
      const std::string form =
          WithArticle(Instruments(rule_.when().screening().instrument()));
      return {absl::StrCat("when ", form, " comes in"), form, "the screening"};
    }
    case v1::Occasion::kVisitPlanned:
      return {"when a visit is planned", "a planned visit", "the planning"};
    case v1::Occasion::kVisitOutcome:
      return {"when a visit's outcome comes in", "a visit's outcome",
              "the visit"};
    case v1::Occasion::kPracticeReport:
      return {"when a practice report comes in", "a practice report",
              "the report"};
    case v1::Occasion::kEnrolment:
      return {"at enrolment", "enrolment", "the enrolment"};
    case v1::Occasion::kDischarge:
      return {"at discharge", "discharge", "the discharge"};
    case v1::Occasion::kContact:
      return {absl::StrCat("at every contact ", kContacts),
              absl::StrCat("a contact ", kContacts), "that contact"};
    case v1::Occasion::EVENT_NOT_SET:
      break;
  }
  return {"never", "nothing", "nothing"};
}

bool RuleTerms::AsksAbout(const Texts& instruments) const {
  const Texts& asked = rule_.when().screening().instrument();
  return std::find_first_of(asked.begin(), asked.end(), instruments.begin(),
                            instruments.end()) != asked.end();
}

std::string RuleTerms::Number(const v1::Number& number,
                              const std::string& unit) const {
  const int value = Value(number);
  std::string text = absl::StrCat(value);
  if (unit == "%") absl::StrAppend(&text, " %");
  if (!unit.empty() && unit != "%") text = Count(value, unit);
  return text + Whose(number);
}

int RuleTerms::Value(const v1::Number& number) const {
  return number.has_setting() ? settings_.at(number.setting()).value
                              : number.value();
}

// That a number is the rule set's own goes without saying.
std::string RuleTerms::Whose(const v1::Number& number) const {
  if (!number.has_setting()) return "";
  const std::string usual = "rule set";
  std::string whose = settings_.at(number.setting()).whose;
  whose = absl::StartsWith(whose, usual) ? whose.substr(usual.size())
                                         : absl::StrCat(", ", whose);
  return absl::StrCat(" (", number.setting(), whose, ")");
}

std::string RuleTerms::Instrument(const std::string& id) const {
  const Scale* scale = catalogue_.Find(id);
  return scale == nullptr ? id : scale->definition().name();
}

std::string RuleTerms::Instruments(const Texts& ids) const {
  std::vector<std::string> names;
  names.reserve(static_cast<size_t>(ids.size()));
  for (const std::string& id : ids) names.push_back(Instrument(id));
  return Alternatives(names);
}

std::string RuleTerms::Total(const std::string& instrument) const {
  const Texts& asked = rule_.when().screening().instrument();
  const bool its_own = asked.size() == 1 && asked[0] == instrument;
  return absl::StrCat(its_own ? "the " : "the latest ", Instrument(instrument),
                      " total");
}

std::string RuleTerms::Item(bool self_harm, const std::string& question) const {
  if (self_harm) return "the self-harm item";
  for (const Scale* scale : Scales()) {
    const std::optional<size_t> item = scale->FindItem(question);
    if (!item) continue;
    const v1::Instrument& instrument = scale->definition();
    return absl::StrCat("the ", instrument.name(), " item \"",
                        instrument.item(static_cast<int>(*item)).label(), "\"");
  }
  return absl::StrCat("the item ", question);
}

std::string RuleTerms::Results(const Texts& codes) const {
  std::vector<std::string> labels;
  for (const std::string& code : codes) {
    std::string label = code;
    for (const Scale* scale : Scales()) {
      const v1::Result* result = scale->FindResult(code);
      if (result != nullptr) label = result->label();
    }
    labels.push_back(label);
  }
  return Quoted(labels);
}

std::vector<const Scale*> RuleTerms::Scales() const {
  std::vector<const Scale*> scales;
  for (const std::string& id : rule_.when().screening().instrument()) {
    const Scale* scale = catalogue_.Find(id);
    if (scale != nullptr) scales.push_back(scale);
  }
  return scales;
}

}  // namespace turnstone

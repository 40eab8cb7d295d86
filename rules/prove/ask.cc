#include "rules/prove/ask.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>

#include <algorithm>

#include "rules/engine/agenda.h"
#include "rules/engine/condition.h"

namespace turnstone {
namespace {

std::string KindInWords(int kind) {
  const std::string& name =
      v1::AlertKind_Name(static_cast<v1::AlertKind>(kind));
  return absl::AsciiStrToLower(
      absl::StrReplaceAll(name, {{"ALERT_KIND_", ""}, {"_", " "}}));
}

}  // namespace

std::vector<Said> AskAtOnce(const Site& site, const History& history) {
  const size_t at = history.facts().size() - 1;
  const Fact& fact = history.facts()[at];
  const View view(site, history, at, fact.effective);
  std::vector<Said> all;
  for (const Question& question : QuestionsAbout(fact, site)) {
    if (question.due > fact.effective) continue;
    const v1::Rule& rule = site.rules.rule(question.rule);
    Said said{question.rule, Evaluate(rule.condition(), view, nullptr)};
    if (said.truth == v1::TRUTH_TRUE) said.priority = rule.priority();
    if (said.truth == v1::TRUTH_UNKNOWN && question.final) {
      said.priority = rule.unknown_priority();
    }
    said.raises = said.priority != v1::PRIORITY_UNSPECIFIED;
    all.push_back(said);
  }
  return all;
}

bool IsGiven(const v1::Condition& condition, const Site& site,
             const History& history) {
  const size_t at = history.facts().size() - 1;
  const View view(site, history, at, history.facts()[at].effective);
  return Evaluate(condition, view, nullptr) == v1::TRUTH_TRUE;
}

bool HasKind(const google::protobuf::RepeatedField<int>& kinds,
             v1::AlertKind kind) {
  return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

bool Satisfies(const Said& said, const v1::RaisesAlert& wanted,
               const Site& site) {
  return said.raises && said.priority >= wanted.at_least() &&
         HasKind(wanted.kind(), site.rules.rule(said.rule).kind());
}

std::string PriorityInWords(v1::Priority priority) {
  if (priority == v1::PRIORITY_UNSPECIFIED) return "none";
  return absl::AsciiStrToLower(
      absl::StrReplaceAll(v1::Priority_Name(priority), {{"PRIORITY_", ""}}));
}

std::string KindsInWords(const google::protobuf::RepeatedField<int>& kinds) {
  return absl::StrJoin(kinds, " or ", [](std::string* out, int kind) {
    out->append(KindInWords(kind));
  });
}

std::string WantedInWords(const v1::RaisesAlert& wanted) {
  return absl::StrCat(
      "an alert of kind ", KindsInWords(wanted.kind()), " at priority ",
      PriorityInWords(wanted.at_least()),
      wanted.at_least() == v1::PRIORITY_STAT ? "" : " or higher");
}

std::string RaisedInWords(const std::vector<Said>& said, const Site& site) {
  std::vector<std::string> words;
  for (const Said& each : said) {
    if (!each.raises) continue;
    const v1::Rule& rule = site.rules.rule(each.rule);
    words.push_back(absl::StrCat(rule.id(), " (", KindInWords(rule.kind()),
                                 ", ", PriorityInWords(each.priority), ")"));
  }
  if (words.empty()) return "nothing is raised at once";
  return absl::StrCat(absl::StrJoin(words, " and "),
                      words.size() == 1 ? " is" : " are", " raised at once");
}

}  // namespace turnstone

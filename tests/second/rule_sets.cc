#include "tests/second/rule_sets.h"

#include <google/protobuf/text_format.h>

#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>

#include "platform/files.h"
#include "rules/check/load.h"

namespace turnstone::second {
namespace {

using google::protobuf::TextFormat;

// What every rule must say and no evaluator looks at.
std::string WithParticulars(const std::string& text) {
  v1::RuleSet rules;
  if (!TextFormat::ParseFromString(text, &rules)) std::abort();
  rules.set_title("Odd rules");
  for (v1::Rule& rule : *rules.mutable_rule()) {
    rule.set_version(1);
    rule.set_title(rule.id());
    rule.set_owner("nobody");
    rule.set_rationale("to be answered twice");
    rule.set_source("common practice, no source");
    rule.set_kind(v1::ALERT_KIND_STEPPED_CARE);
    rule.set_priority(v1::PRIORITY_URGENT);
    rule.set_unknown_priority(v1::PRIORITY_ROUTINE);
    rule.set_protocol("stepped-care");
  }
  std::string whole;
  if (!TextFormat::PrintToString(rules, &whole)) std::abort();
  return whole;
}

std::string SiteFor(const std::string& text) {
  v1::SiteConfig site;
  if (!TextFormat::ParseFromString(text, &site)) std::abort();
  site.set_id(kOddSite);
  site.set_rule_set("odd-rules");
  site.clear_override();
  std::string whole;
  if (!TextFormat::PrintToString(site, &whole)) std::abort();
  return whole;
}

}  // namespace

v1::Configuration BothRuleSets() {
  const std::string root = TURNSTONE_SOURCE_DIR;
  std::map<std::string, std::string> files;
  // Not the properties: they name settings that the odd rules do not have.
  for (const std::string folder :
       {"/rules/instruments", "/rules/packs", "/deploy/config"}) {
    files.merge(ReadTextprotos(root + folder).value());
  }
  files["packs/odd.textproto"] = WithParticulars(
      ReadFile(root + "/tests/second/odd_rules.textproto").value());
  files["sites/odd.textproto"] = SiteFor(
      ReadFile(root + "/deploy/config/sites/pebble-bay.textproto").value());
  LoadResult result = LoadConfiguration(files, {.complete = true});
  for (const Finding& finding : result.findings) {
    std::fprintf(stderr, "%s\n", finding.ToString().c_str());
  }
  if (!result.configuration) std::abort();
  return *std::move(result.configuration);
}

}  // namespace turnstone::second

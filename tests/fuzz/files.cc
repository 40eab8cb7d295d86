#include "rules/check/help.h"
#include "rules/check/load.h"
#include "rules/engine/setup.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

namespace turnstone::fuzz {
namespace {

int Load(const std::string& path, const uint8_t* data, size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const LoadResult result = LoadConfiguration({{path, text}}, {});
  Promise(result.configuration.has_value() == result.findings.empty(),
          "a configuration, or findings");
  for (const Finding& finding : result.findings) {
    Promise(!finding.message.empty() && !finding.advice.empty(),
            "a finding says what is wrong and what to write");
    Promise(HelpFor(finding.id) != nullptr, "a finding has its page of help");
  }
  if (result.configuration) const Setup setup(*result.configuration, "fuzz");
  return 0;
}

}  // namespace

int RuleFile(const uint8_t* data, size_t size) {
  return Load("packs/any.textproto", data, size);
}

int InstrumentFile(const uint8_t* data, size_t size) {
  return Load("instruments/any.textproto", data, size);
}

int SiteFile(const uint8_t* data, size_t size) {
  return Load("sites/any.textproto", data, size);
}

}  // namespace turnstone::fuzz

#include "tests/bench/clips_side.h"

#include <cstdio>
#include <cstdlib>

extern "C" {
#include <clips/clips.h>
}

namespace turnstone {

ClipsSide::ClipsSide(const std::string& path)
    : environment_(CreateEnvironment()) {
  if (EnvLoad(environment_, path.c_str()) != 1) {
    std::fprintf(stderr, "bench: %s has a mistake\n", path.c_str());
    std::abort();
  }
  EnvReset(environment_);
}

ClipsSide::~ClipsSide() { DestroyEnvironment(environment_); }

void* ClipsSide::Make(const ClipsFact& fact) {
  void* const made =
      EnvCreateFact(environment_, EnvFindDeftemplate(environment_, fact.kind));
  for (const auto& [slot, number] : fact.slots) {
    DATA_OBJECT value;
    value.type = INTEGER;
    value.value = EnvAddLong(environment_, number);
    EnvPutFactSlot(environment_, made, slot, &value);
  }
  return EnvAssert(environment_, made);
}

void ClipsSide::Ask(const ClipsFact& question) {
  void* const made = Make(question);
  EnvRun(environment_, -1);
  EnvRetract(environment_, made);
}

std::vector<std::pair<std::string, int64_t>> ClipsSide::Finish() {
  std::vector<std::pair<std::string, int64_t>> raised;
  void* const kind = EnvFindDeftemplate(environment_, "raised");
  for (void* fact = EnvGetNextFactInTemplate(environment_, kind, nullptr);
       fact != nullptr;
       fact = EnvGetNextFactInTemplate(environment_, kind, fact)) {
    DATA_OBJECT rule;
    DATA_OBJECT id;
    EnvGetFactSlot(environment_, fact, "rule", &rule);
    EnvGetFactSlot(environment_, fact, "id", &id);
    raised.emplace_back(DOToString(rule), DOToLong(id));
  }
  EnvReset(environment_);
  return raised;
}

}  // namespace turnstone

// What a set of files holds, for checks that reach from one file to another.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "rules/check/place.h"
#include "rules/check/suggest.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

struct Known {
  // A name that is not here does not exist anywhere. Otherwise it may be in a
  // file that was not given, or could not be read.
  bool complete = false;
  // Null for an instrument that is itself wrong.
  std::map<std::string, const Scale*> instruments;
  std::map<std::string, const v1::RuleSet*> rule_sets;
};

// What `name` stands for. Null if it is not in `known`; then reported at
// `place`, if `complete`. `what` it names: "instrument".
template <typename T>
const T* Lookup(const std::map<std::string, const T*>& known, bool complete,
                const std::string& what, const std::string& name,
                const Place& place) {
  const auto found = known.find(name);
  if (found != known.end()) return found->second;
  if (!complete) return nullptr;
  std::vector<std::string> names;
  names.reserve(known.size());
  for (const auto& [id, ignored] : known) names.push_back(id);
  place.Report(
      "unknown-name", "there is no " + what + " \"" + name + "\"",
      names.empty() ? "add the " + what + " first" : Suggest(name, names));
  return nullptr;
}

// The `instrument` field of the message at `place`: one or more, each once, and
// each known.
void CheckInstruments(
    const google::protobuf::RepeatedPtrField<std::string>& instruments,
    const Place& place, const Known& known);

}  // namespace turnstone

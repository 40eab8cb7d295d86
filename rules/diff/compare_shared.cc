#include <absl/strings/str_cat.h>

#include "rules/diff/as_written.h"
#include "rules/diff/compare.h"

namespace turnstone {
namespace {

void ComparePropertySets(const v1::PropertySet& before,
                         const v1::PropertySet& after,
                         std::vector<std::string>& lines) {
  if (!Differs(before, after)) return;
  if (before.title() != after.title()) {
    lines.push_back(
        absl::StrCat("the property set ", after.id(), " has another title"));
  }
  NamedChanges("the property", before.property(), after.property(), lines);
  NoteSetVersion("the property set", before, after, lines);
}

}  // namespace

std::vector<std::string> CompareShared(const v1::Configuration& before,
                                       const v1::Configuration& after) {
  std::vector<std::string> lines;
  NamedChanges("the instrument", before.instrument(), after.instrument(),
               lines);
  for (const v1::PropertySet& old : before.property_set()) {
    const v1::PropertySet* const now = FindById(after.property_set(), old.id());
    if (now != nullptr) {
      ComparePropertySets(old, *now, lines);
    } else {
      lines.push_back(
          absl::StrCat("the property set ", old.id(), " is removed"));
    }
  }
  for (const v1::PropertySet& now : after.property_set()) {
    if (FindById(before.property_set(), now.id()) != nullptr) continue;
    lines.push_back(absl::StrCat("the property set ", now.id(), " is added"));
  }
  return lines;
}

}  // namespace turnstone

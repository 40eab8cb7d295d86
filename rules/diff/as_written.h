// Parts of rules as their author wrote them, and where they differ.
#pragma once

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <google/protobuf/message.h>
#include <google/protobuf/repeated_ptr_field.h>

#include <string>
#include <vector>

namespace turnstone {

// Takes away the value of every number that names a setting.
void DropResolved(google::protobuf::Message& part);

template <typename Part>
[[nodiscard]] Part AsWritten(Part part) {
  DropResolved(part);
  return part;
}

[[nodiscard]] bool Differs(const google::protobuf::Message& before,
                           const google::protobuf::Message& after);

// Names of the fields that differ, as words: "none at most". REQUIRES: both are
// of one type.
[[nodiscard]] std::vector<std::string> DifferingFields(
    const google::protobuf::Message& before,
    const google::protobuf::Message& after);

// That of the id; null if there is none.
template <typename Named>
[[nodiscard]] const Named* FindById(
    const google::protobuf::RepeatedPtrField<Named>& all,
    const std::string& id) {
  for (const Named& each : all) {
    if (each.id() == id) return &each;
  }
  return nullptr;
}

// A line for each that was added, was removed or differs: "the NOUN ID differs
// in its title, source".
template <typename Named>
void NamedChanges(const std::string& noun,
                  const google::protobuf::RepeatedPtrField<Named>& before,
                  const google::protobuf::RepeatedPtrField<Named>& after,
                  std::vector<std::string>& lines) {
  for (const Named& old : before) {
    const Named* const now = FindById(after, old.id());
    if (now == nullptr) {
      lines.push_back(absl::StrCat(noun, " ", old.id(), " is removed"));
    } else if (Differs(old, *now)) {
      lines.push_back(
          absl::StrCat(noun, " ", old.id(), " differs in its ",
                       absl::StrJoin(DifferingFields(old, *now), ", ")));
    }
  }
  for (const Named& now : after) {
    if (FindById(before, now.id()) != nullptr) continue;
    lines.push_back(absl::StrCat(noun, " ", now.id(), " is added"));
  }
}

// Whether the version went up with the change. `before` and `after` are rule
// sets or property sets of one id, as written.
template <typename Set>
void NoteSetVersion(const std::string& noun, Set before, Set after,
                    std::vector<std::string>& lines) {
  const int was = before.version();
  const int now = after.version();
  if (now > was) {
    lines.push_back(absl::StrCat(noun, " ", after.id(), ": version was ", was,
                                 ", is now ", now));
    return;
  }
  if (!Differs(before, after)) return;
  lines.push_back(absl::StrCat(noun, " ", after.id(),
                               " has changed, but its version was not raised: "
                               "was ",
                               was, ", is ", now));
}

}  // namespace turnstone

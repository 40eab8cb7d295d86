#include "rules/check/suggest.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <numeric>

namespace turnstone {
namespace {

// Letters to add, drop or change to get from one word to the other
// (Levenshtein).
size_t Distance(const std::string& from, const std::string& to) {
  std::vector<size_t> row(to.size() + 1);
  std::iota(row.begin(), row.end(), 0);
  for (size_t i = 1; i <= from.size(); ++i) {
    size_t diagonal = row[0];
    row[0] = i;
    for (size_t j = 1; j <= to.size(); ++j) {
      const size_t changed = diagonal + (from[i - 1] == to[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, changed});
    }
  }
  return row.back();
}

}  // namespace

std::string OneOf(const std::vector<std::string>& words) {
  if (words.size() < 2) return absl::StrJoin(words, "");
  return absl::StrCat(absl::StrJoin(words.begin(), words.end() - 1, ", "),
                      " or ", words.back());
}

const std::string* Nearest(const std::string& word,
                           const std::vector<std::string>& known) {
  const auto nearest =
      std::min_element(known.begin(), known.end(),
                       [&word](const std::string& a, const std::string& b) {
                         return Distance(word, a) < Distance(word, b);
                       });
  // One slip in three letters, so that a swap of two in "titel" is found and
  // unlike words are not offered.
  const bool alike = nearest != known.end() &&
                     Distance(word, *nearest) <= (word.size() + 2) / 3;
  return alike ? &*nearest : nullptr;
}

std::string Suggest(const std::string& word,
                    const std::vector<std::string>& known) {
  if (const std::string* nearest = Nearest(word, known)) {
    return absl::StrCat("did you mean \"", *nearest, "\"? There is ",
                        OneOf(known));
  }
  return absl::StrCat("write ", known.size() == 1 ? "" : "one of ",
                      OneOf(known));
}

std::vector<std::string> ValueNames(
    const google::protobuf::EnumDescriptor& type) {
  std::vector<std::string> names;
  for (int i = 0; i < type.value_count(); ++i) {
    if (type.value(i)->number() != 0) names.push_back(type.value(i)->name());
  }
  return names;
}

std::vector<std::string> MembersOf(const google::protobuf::Message& message,
                                   const std::string& oneof) {
  const google::protobuf::OneofDescriptor& members =
      *message.GetDescriptor()->FindOneofByName(oneof);
  std::vector<std::string> names;
  names.reserve(static_cast<size_t>(members.field_count()));
  for (int i = 0; i < members.field_count(); ++i) {
    names.push_back(members.field(i)->name());
  }
  return names;
}

}  // namespace turnstone

#include "rules/check/field_error.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/check/suggest.h"

namespace turnstone {
namespace {

constexpr size_t kLongestSource = 200;

bool IsIdentifierLetter(char letter) {
  return absl::ascii_isalnum(static_cast<unsigned char>(letter)) ||
         std::string(".-_:").find(letter) != std::string::npos;
}

bool IsSourceLetter(char letter) {
  return absl::ascii_isgraph(static_cast<unsigned char>(letter));
}

// `allowed`: "A-Z a-z".
absl::Status CheckText(const std::string& field, const std::string& value,
                       size_t most, bool (*is_allowed)(char),
                       const std::string& allowed) {
  const std::string send =
      absl::StrCat("1 to ", most, " characters, each ", allowed);
  if (value.empty()) return FieldError(field, "is missing", send);
  if (value.size() > most) return FieldError(field, "is too long", send);
  if (!std::all_of(value.begin(), value.end(), is_allowed)) {
    return FieldError(field, "holds a character that is not allowed", send);
  }
  return absl::OkStatus();
}

}  // namespace

absl::Status FieldError(const std::string& field, const std::string& wrong,
                        const std::string& send) {
  return absl::InvalidArgumentError(
      absl::StrCat(field, " ", wrong, "; send ", send));
}

absl::Status CheckIdentifier(const std::string& field, const std::string& value,
                             size_t most) {
  return CheckText(field, value, most, IsIdentifierLetter,
                   "A-Z a-z 0-9 . _ : or -");
}

absl::Status CheckSource(const std::string& field, const std::string& value) {
  return CheckText(field, value, kLongestSource, IsSourceLetter,
                   "printable ASCII and no space, e.g. \"urn:example:intake\"");
}

absl::Status CheckChoice(const std::string& field, int value,
                         const google::protobuf::EnumDescriptor& type) {
  if (value != 0 && type.FindValueByNumber(value) != nullptr) {
    return absl::OkStatus();
  }
  return FieldError(field,
                    value == 0 ? "is missing" : "is not a value known here",
                    absl::StrCat("one of ", OneOf(ValueNames(type))));
}

}  // namespace turnstone

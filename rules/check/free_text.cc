#include "rules/check/free_text.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_split.h>
#include <google/protobuf/descriptor.h>

#include <algorithm>

#include "rules/check/plausible.h"

namespace turnstone {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

bool IsDigit(char c) {
  return absl::ascii_isdigit(static_cast<unsigned char>(c));
}
bool IsLetterOrDigit(char c) {
  return absl::ascii_isalnum(static_cast<unsigned char>(c));
}

size_t Digits(const std::string& text) {
  return static_cast<size_t>(std::count_if(text.begin(), text.end(), IsDigit));
}

// The longest pieces of `text` made of what `is_part` takes.
template <typename IsPart>
std::vector<std::string> Pieces(const std::string& text, IsPart is_part) {
  std::vector<std::string> pieces(1);
  for (const char c : text) {
    if (is_part(c)) {
      pieces.back() += c;
    } else if (!pieces.back().empty()) {
      pieces.emplace_back();
    }
  }
  return pieces;
}

bool HasMailAddress(const std::string& text) {
  for (const std::string& word : Pieces(text, [](char c) {
         return IsLetterOrDigit(c) ||
                std::string("@._%+-").find(c) != std::string::npos;
       })) {
    const size_t at = word.find('@');
    if (at != std::string::npos && IsMailAddress(word) &&
        word.find('.', at) != std::string::npos) {
      return true;
    }
  }
  return false;
}

// "2027-03-17" and "17.3.2027": three numbers, one a year of four digits.
bool IsDate(const std::string& word) {
  const std::vector<std::string> parts =
      Pieces(word, [](char c) { return IsDigit(c); });
  std::vector<size_t> lengths;
  for (const std::string& part : parts) {
    if (!part.empty()) lengths.push_back(part.size());
  }
  return lengths.size() == 3 && lengths[1] <= 2 &&
         ((lengths[0] == 4 && lengths[2] <= 2) ||
          (lengths[0] <= 2 && lengths[2] == 4));
}

// Seven digits (a subscriber's number) or more, written with what people put
// between them. Words that are dates end one.
bool HasTelephoneNumber(const std::string& text) {
  const std::vector<std::string> words = absl::StrSplit(text, ' ');
  size_t digits = 0;
  size_t most = 0;
  for (const std::string& word : words) {
    const bool goes_on =
        !IsDate(word) && Digits(word) > 0 &&
        std::all_of(word.begin(), word.end(), [](char c) {
          return IsDigit(c) ||
                 std::string("+-()/.,;").find(c) != std::string::npos;
        });
    digits = goes_on ? digits + Digits(word) : 0;
    most = std::max(most, digits);
  }
  return most >= 7;
}

// One word of eight to sixteen letters and digits, six or more of them digits:
// what most countries give their people, where it is not digits alone.
bool HasNationalNumber(const std::string& text) {
  for (const std::string& word : Pieces(text, IsLetterOrDigit)) {
    const size_t digits = Digits(word);
    if (word.size() >= 8 && word.size() <= 16 && digits >= 6 &&
        digits < word.size()) {
      return true;
    }
  }
  return false;
}

void Walk(const Message& message, const std::string& path,
          std::vector<std::string>& warnings);

void Look(const std::string& text, const std::string& path,
          std::vector<std::string>& warnings) {
  const std::vector<std::string> found = Identifying(text);
  if (found.empty()) return;
  warnings.push_back(absl::StrCat(path, ": holds what looks like ",
                                  absl::StrJoin(found, " and "),
                                  "; leave such out of what you write"));
}

void WalkField(const Message& message, const FieldDescriptor& field,
               const std::string& path, std::vector<std::string>& warnings) {
  const auto& reflection = *message.GetReflection();
  const std::string here = absl::StrCat(path, field.json_name());
  if (field.is_repeated()) return;  // no list holds notes
  if (field.cpp_type() == FieldDescriptor::CPPTYPE_MESSAGE) {
    Walk(reflection.GetMessage(message, &field), absl::StrCat(here, "."),
         warnings);
  } else if (field.cpp_type() == FieldDescriptor::CPPTYPE_STRING &&
             (field.name() == "note" || field.name() == "reason")) {
    Look(reflection.GetString(message, &field), here, warnings);
  }
}

void Walk(const Message& message, const std::string& path,
          std::vector<std::string>& warnings) {
  std::vector<const FieldDescriptor*> fields;
  message.GetReflection()->ListFields(message, &fields);
  for (const FieldDescriptor* field : fields) {
    WalkField(message, *field, path, warnings);
  }
}

}  // namespace

std::vector<std::string> Identifying(const std::string& text) {
  std::vector<std::string> found;
  if (HasMailAddress(text)) found.emplace_back("an e-mail address");
  if (HasTelephoneNumber(text)) found.emplace_back("a telephone number");
  if (HasNationalNumber(text)) found.emplace_back("a national number");
  return found;
}

std::vector<std::string> FreeTextWarnings(const Message& message) {
  std::vector<std::string> warnings;
  Walk(message, "", warnings);
  return warnings;
}

}  // namespace turnstone

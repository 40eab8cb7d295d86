#include "clients/cli/render/clean.h"

#include <absl/strings/str_cat.h>
#include <google/protobuf/descriptor.h>

#include <algorithm>
#include <iterator>
#include <vector>

namespace turnstone::cli {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

// Bytes of the character that begins with `lead`; 0 if none does.
size_t BytesFrom(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xc2 && lead <= 0xdf) return 2;
  if (lead >= 0xe0 && lead <= 0xef) return 3;
  return lead >= 0xf0 && lead <= 0xf4 ? 4 : 0;
}

struct Character {
  char32_t code = 0;
  size_t bytes = 1;
  bool valid = false;
};

// Strict: what is written longer than need be, surrogates and what lies behind
// U+10FFFF are no characters. Some terminals would take them for some.
Character CharacterAt(const std::string& text, size_t at) {
  constexpr char32_t kShortest[] = {0, 0, 0x80, 0x800, 0x10000};
  const auto lead = static_cast<unsigned char>(text[at]);
  const size_t bytes = BytesFrom(lead);
  if (bytes == 0 || at + bytes > text.size()) return {lead, 1, false};
  char32_t code = bytes == 1 ? lead : lead & (0x7fU >> bytes);
  for (size_t i = 1; i < bytes; ++i) {
    const auto next = static_cast<unsigned char>(text[at + i]);
    if ((next & 0xc0U) != 0x80U) return {lead, 1, false};
    code = (code << 6U) | (next & 0x3fU);
  }
  if (code < kShortest[bytes] || code > 0x10ffff ||
      (code >= 0xd800 && code <= 0xdfff)) {
    return {lead, 1, false};
  }
  return {code, bytes, true};
}

// Ranges of characters that must not reach a terminal. The joiners U+200C and
// U+200D may: scripts and emoji need them.
constexpr struct {
  char32_t first, last;
} kUnsafe[] = {
    {0x00, 0x1f},        // C0 controls
    {0x7f, 0x9f},        // delete, C1 controls
    {0xad, 0xad},        // soft hyphen
    {0x61c, 0x61c},      // Arabic letter mark
    {0x180e, 0x180e},    // vowel separator without width
    {0x200b, 0x200b},    // space without width
    {0x200e, 0x200f},    // marks of direction
    {0x2028, 0x202e},    // ends of line, embeddings and overrides
    {0x2060, 0x206f},    // joiner and operators without width, isolates
    {0xfeff, 0xfeff},    // byte order mark
    {0xfff9, 0xfffb},    // annotations
    {0xe0000, 0xe007f},  // tags
};

bool IsUnsafe(char32_t code) {
  return std::any_of(std::begin(kUnsafe), std::end(kUnsafe),
                     [code](const auto& range) {
                       return range.first <= code && code <= range.last;
                     });
}

std::string FourDigits(char32_t code) {
  return absl::StrCat("\\u",
                      absl::Hex(static_cast<uint32_t>(code), absl::kZeroPad4));
}

// As JSON would, so that JSON stays what it was; a byte that is no character
// as C would.
std::string WrittenOut(const Character& character) {
  const char32_t code = character.code;
  if (!character.valid) {
    return absl::StrCat("\\x", absl::Hex(static_cast<uint32_t>(code)));
  }
  if (code <= 0xffff) return FourDigits(code);
  const char32_t rest = code - 0x10000;
  return FourDigits(0xd800 + (rest >> 10U)) +
         FourDigits(0xdc00 + (rest & 0x3ffU));
}

std::string Clean(const std::string& text, bool keep_newlines) {
  std::string clean;
  for (size_t at = 0; at < text.size();) {
    const Character character = CharacterAt(text, at);
    const char first = text[at];
    if (first == '\n' && keep_newlines) {
      clean += '\n';
    } else if (first == '\n' || first == '\t') {
      clean += ' ';
    } else if (!character.valid || IsUnsafe(character.code)) {
      clean += WrittenOut(character);
    } else {
      clean.append(text, at, character.bytes);
    }
    at += character.bytes;
  }
  return clean;
}

bool IsParagraph(const FieldDescriptor& field) {
  return field.name() == "note" ||
         field.full_name() == "turnstone.v1.ProtocolReminder.text";
}

void CleanText(Message& message, const FieldDescriptor& field) {
  const auto& reflection = *message.GetReflection();
  const bool block = IsParagraph(field);
  if (!field.is_repeated()) {
    reflection.SetString(&message, &field,
                         Clean(reflection.GetString(message, &field), block));
    return;
  }
  for (int i = 0; i < reflection.FieldSize(message, &field); ++i) {
    const std::string text = reflection.GetRepeatedString(message, &field, i);
    reflection.SetRepeatedString(&message, &field, i, Clean(text, block));
  }
}

void CleanMessages(Message& message, const FieldDescriptor& field) {
  const auto& reflection = *message.GetReflection();
  if (!field.is_repeated()) {
    CleanTexts(*reflection.MutableMessage(&message, &field));
    return;
  }
  for (int i = 0; i < reflection.FieldSize(message, &field); ++i) {
    CleanTexts(*reflection.MutableRepeatedMessage(&message, &field, i));
  }
}

}  // namespace

std::string CleanLine(const std::string& text) { return Clean(text, false); }

std::string CleanBlock(const std::string& text) { return Clean(text, true); }

void CleanTexts(Message& message) {
  std::vector<const FieldDescriptor*> fields;
  message.GetReflection()->ListFields(message, &fields);
  for (const FieldDescriptor* field : fields) {
    if (field->cpp_type() == FieldDescriptor::CPPTYPE_STRING) {
      CleanText(message, *field);
    } else if (field->cpp_type() == FieldDescriptor::CPPTYPE_MESSAGE) {
      CleanMessages(message, *field);
    }
  }
}

}  // namespace turnstone::cli

#include "clients/cli/render/clean.h"

#include <google/protobuf/descriptor.h>

#include <vector>

namespace turnstone::cli {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

bool IsContinuation(char c) { return (c & '\xc0') == '\x80'; }

// Bytes of the character at `at`; 0 if they are not UTF-8.
size_t CharacterBytes(const std::string& text, size_t at) {
  const auto lead = static_cast<unsigned char>(text[at]);
  const size_t bytes = lead < 0x80                    ? 1
                       : lead >= 0xc2 && lead <= 0xdf ? 2
                       : lead >= 0xe0 && lead <= 0xef ? 3
                       : lead >= 0xf0 && lead <= 0xf4 ? 4
                                                      : 0;
  if (at + bytes > text.size()) return 0;
  for (size_t i = 1; i < bytes; ++i) {
    if (!IsContinuation(text[at + i])) return 0;
  }
  return bytes;
}

// C0 and C1 controls, and the characters that turn the reading direction
// (U+200E, U+200F, U+202A to U+202E, U+2066 to U+2069) or end a line unseen
// (U+2028, U+2029).
bool IsUnsafe(const std::string& character) {
  if (character.size() == 1) return character[0] < ' ' || character == "\x7f";
  if (character.size() == 2) {
    return character[0] == '\xc2' && character < "\xc2\xa0";
  }
  const auto within = [&character](const char* low, const char* high) {
    return character >= low && character <= high;
  };
  return within("\xe2\x80\x8e", "\xe2\x80\x8f") ||
         within("\xe2\x80\xa8", "\xe2\x80\xae") ||
         within("\xe2\x81\xa6", "\xe2\x81\xa9");
}

std::string Clean(const std::string& text, bool keep_newlines) {
  std::string clean;
  for (size_t at = 0; at < text.size();) {
    const size_t bytes = CharacterBytes(text, at);
    const std::string character = text.substr(at, bytes);
    at += bytes == 0 ? 1 : bytes;
    if (character == "\n" && keep_newlines) {
      clean += '\n';
    } else if (character == "\n" || character == "\t") {
      clean += ' ';
    } else {
      clean += bytes == 0 || IsUnsafe(character) ? "?" : character;
    }
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

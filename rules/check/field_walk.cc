#include "rules/check/field_walk.h"

#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/check/scalar_value.h"
#include "rules/check/suggest.h"

namespace turnstone {
namespace {

using google::protobuf::Descriptor;
using google::protobuf::FieldDescriptor;
using google::protobuf::io::Tokenizer;

// A guard for the stack; conditions may be 20 deep, two messages each.
constexpr int kDeepest = 100;

std::vector<std::string> FieldNames(const Descriptor& type) {
  std::vector<std::string> names;
  names.reserve(static_cast<size_t>(type.field_count()));
  for (int i = 0; i < type.field_count(); ++i) {
    names.push_back(type.field(i)->name());
  }
  return names;
}

bool IsMessage(const FieldDescriptor& field) {
  return field.cpp_type() == FieldDescriptor::CPPTYPE_MESSAGE;
}

}  // namespace

void FieldWalk::WalkFile(const Descriptor& type) {
  tokens_.Next();
  if (!Fields(type, 0)) return;
  if (tokens_.current().type != Tokenizer::TYPE_END) {
    Report("brackets-do-not-match", "\"}\" closes nothing",
           "remove it, or add the \"{\" it belongs to");
  }
}

bool FieldWalk::Fields(const Descriptor& type, int depth) {
  if (depth > kDeepest) {
    return Report("nested-too-deeply", "messages are nested too deeply",
                  "nest them less deeply");
  }
  std::set<std::string> seen;
  while (tokens_.current().type != Tokenizer::TYPE_END && !Looking("}")) {
    if (!OneField(type, seen, depth)) return false;
  }
  return true;
}

bool FieldWalk::OneField(const Descriptor& type, std::set<std::string>& seen,
                         int depth) {
  if (tokens_.current().type != Tokenizer::TYPE_IDENTIFIER) {
    return Report(
        "file-unreadable",
        absl::StrCat(Found(), " stands where a field should begin"),
        absl::StrCat("write a field of ", type.name(), ", or \"}\" to end it"));
  }
  const std::string name = tokens_.current().text;
  const FieldDescriptor* field = type.FindFieldByName(name);
  if (field == nullptr) {
    Report("unknown-field",
           absl::StrCat("\"", name, "\" is not a field of ", type.name()),
           type.field_count() == 0 ? "remove it"
                                   : Suggest(name, FieldNames(type)));
    tokens_.Next();
    if (!SkipValue()) return false;
  } else {
    CheckOnce(*field, seen);
    tokens_.Next();
    if (!Value(*field, depth)) return false;
  }
  if (!Take(",")) Take(";");
  return true;
}

void FieldWalk::CheckOnce(const FieldDescriptor& field,
                          std::set<std::string>& seen) {
  if (field.is_repeated()) return;
  if (!seen.insert(field.name()).second) {
    Report("field-written-twice",
           absl::StrCat("\"", field.name(), "\" is written twice in one ",
                        field.containing_type()->name()),
           "keep one of them");
    return;
  }
  const google::protobuf::OneofDescriptor* oneof =
      field.real_containing_oneof();
  for (int i = 0; oneof != nullptr && i < oneof->field_count(); ++i) {
    const std::string& other = oneof->field(i)->name();
    if (other == field.name() || !seen.contains(other)) continue;
    Report("fields-exclude-each-other",
           absl::StrCat("\"", field.name(), "\" cannot stand beside \"", other,
                        "\""),
           "keep one of them");
  }
}

bool FieldWalk::Value(const FieldDescriptor& field, int depth) {
  const bool colon = Take(":");
  if (!colon && !IsMessage(field)) {
    return Report("file-unreadable",
                  absl::StrCat(Found(), " stands after \"", field.name(), "\""),
                  absl::StrCat("write ", field.name(), ": and the value"));
  }
  if (field.is_repeated() && Looking("[")) return List(field, depth);
  return Single(field, depth);
}

bool FieldWalk::List(const FieldDescriptor& field, int depth) {
  Take("[");
  if (Take("]")) return true;
  do {
    if (!Single(field, depth)) return false;
  } while (Take(","));
  if (Take("]")) return true;
  return Report(
      "file-unreadable",
      absl::StrCat(Found(), " stands in the list of \"", field.name(), "\""),
      "write \",\" between the values and \"]\" after the last");
}

bool FieldWalk::Single(const FieldDescriptor& field, int depth) {
  if (IsMessage(field)) {
    const int line = tokens_.current().line + 1;
    if (!Take("{")) {
      return Report(
          "file-unreadable",
          absl::StrCat(Found(), " stands after \"", field.name(), "\""),
          absl::StrCat("write ", field.name(), " { ... }"));
    }
    if (!Fields(*field.message_type(), depth + 1)) return false;
    if (Take("}")) return true;
    return Report("brackets-do-not-match",
                  absl::StrCat("the file ends within the \"", field.name(),
                               "\" begun on line ", line),
                  "add the missing \"}\"");
  }
  const bool negative = Take("-");
  const std::string wrong = WrongValue(field, tokens_.current(), negative);
  if (!wrong.empty()) {
    Report("value-of-wrong-kind",
           absl::StrCat(Found(), " is not a value of \"", field.name(), "\""),
           wrong);
  }
  return SkipValue();
}

// A value of any kind; a colon may stand before it.
bool FieldWalk::SkipValue() {
  Take(":");
  Take("-");
  int open = 0;
  do {
    if (tokens_.current().type == Tokenizer::TYPE_END) {
      return Report("brackets-do-not-match", "the file ends within a value",
                    "write the rest of it");
    }
    const bool closing = Looking("}") || Looking("]");
    if (closing && open == 0) return true;  // the value is missing
    if (Looking("{") || Looking("[")) ++open;
    if (closing) --open;
    tokens_.Next();
    // Texts side by side are one text.
  } while (open > 0 || (tokens_.previous().type == Tokenizer::TYPE_STRING &&
                        tokens_.current().type == Tokenizer::TYPE_STRING));
  return true;
}

bool FieldWalk::Looking(const char* symbol) const {
  return tokens_.current().text == symbol;
}

bool FieldWalk::Take(const char* symbol) {
  if (!Looking(symbol)) return false;
  tokens_.Next();
  return true;
}

bool FieldWalk::Report(std::string id, std::string message,
                       std::string advice) {
  const Tokenizer::Token& at = tokens_.current();
  findings_.push_back({path_, at.line + 1, at.column + 1, std::move(message),
                       std::move(advice), std::move(id)});
  return false;
}

std::string FieldWalk::Found() const {
  const Tokenizer::Token& token = tokens_.current();
  if (token.type == Tokenizer::TYPE_END) return "the end of the file";
  // A text has its own quotation marks.
  if (token.type == Tokenizer::TYPE_STRING) return token.text;
  return absl::StrCat("\"", token.text, "\"");
}

}  // namespace turnstone

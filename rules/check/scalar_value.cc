#include "rules/check/scalar_value.h"

#include <absl/strings/str_cat.h>
#include <google/protobuf/wrappers.pb.h>

#include <limits>

#include "rules/check/suggest.h"

namespace turnstone {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::io::Tokenizer;

// Asked of protobuf itself, which refuses to read other texts back.
bool IsUtf8(const std::string& text) {
  google::protobuf::BytesValue bytes;
  bytes.set_value(text);
  return google::protobuf::StringValue().ParseFromString(
      bytes.SerializeAsString());
}

std::string WrongText(const Tokenizer::Token& token, bool negative) {
  if (negative || token.type != Tokenizer::TYPE_STRING) {
    return "write it in quotation marks";
  }
  std::string text;
  Tokenizer::ParseString(token.text, &text);
  return IsUtf8(text) ? "" : "save the file as UTF-8";
}

std::string WrongNumber(const Tokenizer::Token& token, bool negative) {
  if (token.type != Tokenizer::TYPE_INTEGER) {
    return "write a whole number, without quotation marks";
  }
  const uint64_t most =
      uint64_t{std::numeric_limits<int32_t>::max()} + (negative ? 1 : 0);
  uint64_t number = 0;
  if (Tokenizer::ParseInteger(token.text, most, &number)) return "";
  return "write a number nearer to zero";
}

// A name such as "inf" is no number a person would mean.
std::string WrongDecimal(const Tokenizer::Token& token) {
  const bool number = token.type == Tokenizer::TYPE_INTEGER ||
                      token.type == Tokenizer::TYPE_FLOAT;
  return number ? "" : "write a number such as 6.1, without quotation marks";
}

std::string WrongChoice(const FieldDescriptor& field,
                        const Tokenizer::Token& token) {
  if (field.enum_type()->FindValueByName(token.text) != nullptr) return "";
  return Suggest(token.text, ValueNames(*field.enum_type()));
}

}  // namespace

std::string WrongValue(const FieldDescriptor& field,
                       const Tokenizer::Token& token, bool negative) {
  switch (field.cpp_type()) {
    case FieldDescriptor::CPPTYPE_STRING:
      return WrongText(token, negative);
    case FieldDescriptor::CPPTYPE_INT32:
      return WrongNumber(token, negative);
    case FieldDescriptor::CPPTYPE_DOUBLE:
      return WrongDecimal(token);
    case FieldDescriptor::CPPTYPE_ENUM:
      return WrongChoice(field, token);
    case FieldDescriptor::CPPTYPE_BOOL:
      return token.text == "true" || token.text == "false"
                 ? ""
                 : "write true or false";
    default:
      // Our messages hold no other kind; TextFormat reads what comes.
      return "";
  }
}

}  // namespace turnstone

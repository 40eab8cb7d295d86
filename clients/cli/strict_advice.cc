#include "clients/cli/strict_advice.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <google/protobuf/timestamp.pb.h>
#include <google/protobuf/util/time_util.h>

#include <vector>

namespace turnstone::cli {
namespace {

using google::protobuf::Descriptor;
using google::protobuf::EnumDescriptor;
using google::protobuf::FieldDescriptor;
using google::protobuf::Timestamp;

bool IsTime(const FieldDescriptor& field) {
  return field.message_type() == Timestamp::descriptor();
}

bool IsValueName(const EnumDescriptor& type, const std::string& text) {
  const auto* value = type.FindValueByName(text);
  return value != nullptr && value->number() != 0;
}

std::string ValueNames(const EnumDescriptor& type) {
  std::vector<std::string> names;
  for (int i = 0; i < type.value_count(); ++i) {
    if (type.value(i)->number() == 0) continue;
    names.push_back(absl::StrCat("\"", type.value(i)->name(), "\""));
  }
  return absl::StrJoin(names, ", ");
}

}  // namespace

const FieldDescriptor* FieldCalled(const Descriptor& type,
                                   const std::string& name) {
  for (int i = 0; i < type.field_count(); ++i) {
    if (type.field(i)->json_name() == name) return type.field(i);
  }
  return nullptr;
}

std::string KeysOf(const Descriptor& type) {
  std::vector<std::string> names;
  names.reserve(static_cast<size_t>(type.field_count()));
  for (int i = 0; i < type.field_count(); ++i) {
    names.push_back(type.field(i)->json_name());
  }
  return absl::StrJoin(names, ", ");
}

bool IsObject(const FieldDescriptor& field) {
  return field.type() == FieldDescriptor::TYPE_MESSAGE && !IsTime(field);
}

bool IsText(const FieldDescriptor& field, const std::string& text) {
  switch (field.type()) {
    case FieldDescriptor::TYPE_STRING:
      return true;
    case FieldDescriptor::TYPE_ENUM:
      return IsValueName(*field.enum_type(), text);
    case FieldDescriptor::TYPE_MESSAGE: {
      Timestamp time;
      return IsTime(field) &&
             google::protobuf::util::TimeUtil::FromString(text, &time);
    }
    default:
      return false;
  }
}

std::string Advice(const FieldDescriptor& field) {
  switch (field.type()) {
    case FieldDescriptor::TYPE_STRING:
      return "not text; write it in double quotes";
    case FieldDescriptor::TYPE_ENUM:
      return absl::StrCat("not one of its values; write ",
                          ValueNames(*field.enum_type()));
    case FieldDescriptor::TYPE_BOOL:
      return "neither true nor false; write true or false without quotes";
    case FieldDescriptor::TYPE_INT32:
      return "not a whole number in range; write digits only, without quotes "
             "and without a decimal point";
    default:
      return IsTime(field) ? "not a time with its zone; write it as "
                             "\"2027-03-03T14:05:00Z\""
                           : "not an object; write { ... }";
  }
}

}  // namespace turnstone::cli

#include "rules/diff/as_written.h"

#include <absl/strings/str_replace.h>
#include <google/protobuf/util/message_differencer.h>

#include <memory>

#include "rules/engine/resolve_numbers.h"

namespace turnstone {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

// A message that holds nothing of `whole` but the field.
std::unique_ptr<Message> Only(const Message& whole,
                              const FieldDescriptor* field) {
  const std::unique_ptr<Message> copy(whole.New());
  copy->CopyFrom(whole);
  std::unique_ptr<Message> only(whole.New());
  whole.GetReflection()->SwapFields(copy.get(), only.get(), {field});
  return only;
}

}  // namespace

void DropResolved(Message& part) {
  ForEachNumber(part, [](v1::Number& number) {
    if (number.has_setting()) number.clear_value();
  });
}

bool Differs(const Message& before, const Message& after) {
  return !google::protobuf::util::MessageDifferencer::Equals(before, after);
}

std::vector<std::string> DifferingFields(const Message& before,
                                         const Message& after) {
  std::vector<std::string> names;
  for (int i = 0; i < before.GetDescriptor()->field_count(); ++i) {
    const FieldDescriptor* const field = before.GetDescriptor()->field(i);
    if (!Differs(*Only(before, field), *Only(after, field))) continue;
    names.push_back(absl::StrReplaceAll(field->name(), {{"_", " "}}));
  }
  return names;
}

}  // namespace turnstone

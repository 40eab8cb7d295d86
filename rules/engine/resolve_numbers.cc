#include "rules/engine/resolve_numbers.h"

#include <vector>

namespace turnstone {

// Walks by reflection, so that a new kind of condition needs no code here.
void ForEachNumber(google::protobuf::Message& message,
                   const std::function<void(v1::Number&)>& use) {
  using google::protobuf::FieldDescriptor;
  if (message.GetDescriptor() == v1::Number::descriptor()) {
    use(static_cast<v1::Number&>(message));
    return;
  }
  const google::protobuf::Reflection& reflection = *message.GetReflection();
  std::vector<const FieldDescriptor*> fields;
  reflection.ListFields(message, &fields);
  for (const FieldDescriptor* field : fields) {
    if (field->cpp_type() != FieldDescriptor::CPPTYPE_MESSAGE) continue;
    if (!field->is_repeated()) {
      ForEachNumber(*reflection.MutableMessage(&message, field), use);
      continue;
    }
    for (int i = 0; i < reflection.FieldSize(message, field); ++i) {
      ForEachNumber(*reflection.MutableRepeatedMessage(&message, field, i),
                    use);
    }
  }
}

void ResolveNumbers(const std::map<std::string, SettingInForce>& settings,
                    google::protobuf::Message& message) {
  ForEachNumber(message, [&settings](v1::Number& number) {
    if (!number.has_setting()) return;
    number.set_value(settings.at(number.setting()).value);
  });
}

}  // namespace turnstone

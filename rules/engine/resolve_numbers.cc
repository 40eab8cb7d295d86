#include "rules/engine/resolve_numbers.h"

#include <vector>

namespace turnstone {

// Walks by reflection, so that a new kind of condition needs no code here.
void ResolveNumbers(const std::map<std::string, SettingInForce>& settings,
                    google::protobuf::Message& message) {
  using google::protobuf::FieldDescriptor;
  if (message.GetDescriptor() == v1::Number::descriptor()) {
    auto& number = static_cast<v1::Number&>(message);
    if (number.has_setting()) {
      number.set_value(settings.at(number.setting()).value);
    }
    return;
  }
  const google::protobuf::Reflection& reflection = *message.GetReflection();
  std::vector<const FieldDescriptor*> fields;
  reflection.ListFields(message, &fields);
  for (const FieldDescriptor* field : fields) {
    if (field->cpp_type() != FieldDescriptor::CPPTYPE_MESSAGE) continue;
    if (!field->is_repeated()) {
      ResolveNumbers(settings, *reflection.MutableMessage(&message, field));
      continue;
    }
    for (int i = 0; i < reflection.FieldSize(message, field); ++i) {
      ResolveNumbers(settings,
                     *reflection.MutableRepeatedMessage(&message, field, i));
    }
  }
}

}  // namespace turnstone

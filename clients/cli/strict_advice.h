// What a field of a message holds when written as JSON, and how to say so.
#pragma once

#include <google/protobuf/descriptor.h>

#include <string>

namespace turnstone::cli {

// The field with that lowerCamelCase name; null if there is none.
[[nodiscard]] const google::protobuf::FieldDescriptor* FieldCalled(
    const google::protobuf::Descriptor& type, const std::string& name);

// "source, eventId, site ...".
[[nodiscard]] std::string KeysOf(const google::protobuf::Descriptor& type);

// Whether the field is written as { ... }.
[[nodiscard]] bool IsObject(const google::protobuf::FieldDescriptor& field);

// Whether the field may hold this text: free text, the name of one of its
// values, or a time with a zone.
[[nodiscard]] bool IsText(const google::protobuf::FieldDescriptor& field,
                          const std::string& text);

// "not a whole number; write ...".
[[nodiscard]] std::string Advice(
    const google::protobuf::FieldDescriptor& field);

}  // namespace turnstone::cli

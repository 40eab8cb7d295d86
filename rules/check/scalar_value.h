// Single values in protobuf text format.
#pragma once

#include <google/protobuf/descriptor.h>
#include <google/protobuf/io/tokenizer.h>

#include <string>

namespace turnstone {

// Empty if `token` is a value for `field`; else what to write instead.
// `negative`: a minus sign stands before it. Texts must be UTF-8, whole
// numbers fit, and enumeration values be given by name.
[[nodiscard]] std::string WrongValue(
    const google::protobuf::FieldDescriptor& field,
    const google::protobuf::io::Tokenizer::Token& token, bool negative);

}  // namespace turnstone

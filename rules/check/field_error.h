// What to tell the sender of an event that cannot be accepted. No message
// repeats what was sent: it may identify a person, or be an answer.
#pragma once

#include <absl/status/status.h>
#include <google/protobuf/descriptor.h>

#include <cstddef>
#include <string>

namespace turnstone {

// INVALID_ARGUMENT: "visitPlanned.visit is missing; send ...". `field` as it is
// written in JSON.
[[nodiscard]] absl::Status FieldError(const std::string& field,
                                      const std::string& wrong,
                                      const std::string& send);

// 1 to `most` of A-Z a-z 0-9 . _ : -.
[[nodiscard]] absl::Status CheckIdentifier(const std::string& field,
                                           const std::string& value,
                                           size_t most);

// 1 to 200 printable ASCII characters without spaces.
[[nodiscard]] absl::Status CheckSource(const std::string& field,
                                       const std::string& value);

// A value of `type` other than the unspecified one. Over the wire any number
// may come.
[[nodiscard]] absl::Status CheckChoice(
    const std::string& field, int value,
    const google::protobuf::EnumDescriptor& type);

}  // namespace turnstone

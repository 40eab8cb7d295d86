// Words for advice: what to write instead.
#pragma once

#include <google/protobuf/descriptor.h>
#include <google/protobuf/message.h>

#include <string>
#include <vector>

namespace turnstone {

// "a, b or c".
[[nodiscard]] std::string OneOf(const std::vector<std::string>& words);

// The one of `known` that is a slip of the pen away from `word`; null if none.
[[nodiscard]] const std::string* Nearest(const std::string& word,
                                         const std::vector<std::string>& known);

// "did you mean "b"? There is a, b or c" where one of `known` is a slip of the
// pen away from `word`; else "write one of a, b or c". REQUIRES: `known` is not
// empty.
[[nodiscard]] std::string Suggest(const std::string& word,
                                  const std::vector<std::string>& known);

// Every value but the unspecified one, as written in text format and JSON.
[[nodiscard]] std::vector<std::string> ValueNames(
    const google::protobuf::EnumDescriptor& type);

// The fields of a oneof of `message`.
[[nodiscard]] std::vector<std::string> MembersOf(
    const google::protobuf::Message& message, const std::string& oneof);

}  // namespace turnstone

// Enum values as plain words: ALERT_STATUS_IN_PROGRESS is "in-progress".
#pragma once

#include <google/protobuf/generated_enum_reflection.h>

#include <optional>
#include <string>
#include <vector>

namespace turnstone::cli {

// "not stated" for the unspecified value.
[[nodiscard]] std::string WordFor(const google::protobuf::EnumDescriptor& type,
                                  int number);

// Every word but that of the unspecified value, in order of number.
[[nodiscard]] std::vector<std::string> WordsOf(
    const google::protobuf::EnumDescriptor& type);

[[nodiscard]] std::optional<int> NumberFor(
    const google::protobuf::EnumDescriptor& type, const std::string& word);

template <typename Enum>
[[nodiscard]] std::string Word(Enum value) {
  return WordFor(*google::protobuf::GetEnumDescriptor<Enum>(), value);
}

}  // namespace turnstone::cli

// Options that take words for the values of an enum, or a number.
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <string>
#include <vector>

#include "clients/cli/words.h"

namespace turnstone::cli {

// Takes one or more, separated by commas; any other word is refused with the
// list of those that are accepted. `help` stands before that list.
void AddWords(CLI::App& command, const std::string& name,
              const google::protobuf::EnumDescriptor& type,
              std::vector<std::string>& words, const std::string& help = "");

// Lets a whole number through that is not below `least`.
[[nodiscard]] CLI::Validator AtLeast(int64_t least);

// The values of words that AddWords let through.
template <typename Enum>
[[nodiscard]] std::vector<Enum> ValuesOf(
    const std::vector<std::string>& words) {
  std::vector<Enum> values;
  for (const std::string& word : words) {
    const auto number =
        NumberFor(*google::protobuf::GetEnumDescriptor<Enum>(), word);
    if (number.has_value()) values.push_back(static_cast<Enum>(*number));
  }
  return values;
}

}  // namespace turnstone::cli

#include "clients/cli/word_option.h"

#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

namespace turnstone::cli {

void AddWords(CLI::App& command, const std::string& name,
              const google::protobuf::EnumDescriptor& type,
              std::vector<std::string>& words, const std::string& help) {
  const std::string accepted = absl::StrJoin(WordsOf(type), ", ");
  command.add_option(name, words, absl::StrCat(help, accepted))
      ->delimiter(',')
      ->allow_extra_args(false)
      ->check(CLI::Validator(
          [&type, accepted](const std::string& word) {
            return NumberFor(type, word).has_value()
                       ? std::string()
                       : absl::StrCat("no such word; write ", accepted);
          },
          "WORDS"));
}

CLI::Validator AtLeast(int64_t least) {
  return {[least](const std::string& text) {
            int64_t number = 0;
            return absl::SimpleAtoi(text, &number) && number >= least
                       ? std::string()
                       : absl::StrCat("write a whole number, at least ", least);
          },
          ""};
}

}  // namespace turnstone::cli

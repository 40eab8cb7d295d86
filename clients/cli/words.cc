#include "clients/cli/words.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_replace.h>
#include <google/protobuf/descriptor.h>

namespace turnstone::cli {
namespace {

using google::protobuf::EnumDescriptor;

// Every value's name begins like that of the unspecified one.
std::string PlainWord(const EnumDescriptor& type, const std::string& name) {
  static const std::string unspecified = "UNSPECIFIED";
  const size_t prefix =
      type.FindValueByNumber(0)->name().size() - unspecified.size();
  return absl::StrReplaceAll(absl::AsciiStrToLower(name.substr(prefix)),
                             {{"_", "-"}});
}

}  // namespace

std::string WordFor(const EnumDescriptor& type, int number) {
  const auto* value = type.FindValueByNumber(number);
  if (value == nullptr || number == 0) return "not stated";
  return PlainWord(type, value->name());
}

std::vector<std::string> WordsOf(const EnumDescriptor& type) {
  std::vector<std::string> words;
  for (int i = 0; i < type.value_count(); ++i) {
    if (type.value(i)->number() == 0) continue;
    words.push_back(PlainWord(type, type.value(i)->name()));
  }
  return words;
}

std::optional<int> NumberFor(const EnumDescriptor& type,
                             const std::string& word) {
  for (int i = 0; i < type.value_count(); ++i) {
    const auto* value = type.value(i);
    if (value->number() != 0 && PlainWord(type, value->name()) == word) {
      return value->number();
    }
  }
  return std::nullopt;
}

}  // namespace turnstone::cli

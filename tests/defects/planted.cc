#include "tests/defects/planted.h"

#include <absl/strings/str_cat.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "platform/files.h"

namespace turnstone {
namespace {

// Every block of our files ends with a bracket on a line of its own.
constexpr char kEnd[] = "\n}\n";

struct Span {
  size_t from = 0;
  size_t until = 0;
};

// Of the block that holds `text`; no length if none does.
Span BlockWith(const std::string& file, const std::string& text) {
  const size_t at = file.find(absl::StrCat("\n  ", text));
  if (at == std::string::npos) return {};
  const size_t before = file.rfind(kEnd, at);
  return {before == std::string::npos ? 0 : before + 3,
          file.find(kEnd, at) + 3};
}

// Removes every part from `begin` up to the next `end`, for which `unwanted`.
template <typename Unwanted>
void Cut(const std::string& begin, const std::string& end, Unwanted unwanted,
         std::string& text) {
  size_t at = text.find(begin);
  while (at != std::string::npos) {
    const size_t length = text.find(end, at + 1) + end.size() - at;
    const bool cut = unwanted(text.substr(at, length));
    // From the break before it on; that at its end stays.
    if (cut) text.erase(at, length - 1);
    at = text.find(begin, at + (cut ? 0 : length - 1));
  }
}

}  // namespace

std::vector<Defect> Joined(const std::vector<std::vector<Defect>>& parts) {
  std::vector<Defect> joined;
  for (const std::vector<Defect>& part : parts) {
    joined.insert(joined.end(), part.begin(), part.end());
  }
  return joined;
}

ShippedFiles ReadShipped() {
  const std::string root = TURNSTONE_SOURCE_DIR;
  ShippedFiles files;
  for (const std::string folder : {"/rules", "/deploy/config"}) {
    const ShippedFiles read = ReadTextprotos(root + folder).value();
    for (const auto& [path, text] : read) {
      files[path.substr(root.size())] = text;
    }
  }
  return files;
}

void Plant(const Defect& defect, ShippedFiles& files) {
  std::string& text = files.at(defect.file);
  for (const Edit& edit : defect.edits) {
    const Span block = BlockWith(text, edit.block);
    ASSERT_GT(block.until, block.from) << "no block with " << edit.block;
    if (edit.from.empty()) {
      text.replace(block.from, block.until - block.from, edit.to);
      continue;
    }
    ASSERT_NE(edit.from, edit.to) << "nothing changes";
    const size_t at = text.find(edit.from, block.from);
    ASSERT_LT(at, block.until) << "not there: " << edit.from;
    text.replace(at, edit.from.size(), edit.to);
  }
}

void KeepRulesOf(const std::vector<Edit>& edits, bool divided,
                 ShippedFiles& files) {
  std::string& pack = files.at(kPack);
  const Span division = BlockWith(pack, "id: \"who-enters\"");
  const std::string divides =
      pack.substr(division.from, division.until - division.from);
  Cut(
      "\nrule {", kEnd,
      [&](const std::string& rule) {
        const size_t at = rule.find("id: ");
        const std::string id = rule.substr(at, rule.find('\n', at) - at);
        const bool edited =
            std::any_of(edits.begin(), edits.end(),
                        [&](const Edit& edit) { return edit.block == id; });
        const bool shares =
            divided && divides.find(absl::StrCat("rule: ", id.substr(4))) !=
                           std::string::npos;
        return !edited && !shares;
      },
      pack);
  if (divided) return;
  Cut(
      "\ndivision {", kEnd, [](const std::string&) { return true; }, pack);
}

void StripExamples(ShippedFiles& files) {
  Cut(
      "\n  example {", "\n  }\n", [](const std::string&) { return true; },
      files.at(kPack));
}

}  // namespace turnstone

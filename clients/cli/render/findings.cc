#include "clients/cli/render/findings.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"

namespace turnstone::cli {
namespace {

// The line the finding is about with a mark below its column.
std::string SourceLine(const std::string& file, const Finding& finding) {
  const std::vector<std::string> lines = absl::StrSplit(file, '\n');
  const auto number = static_cast<size_t>(finding.line);
  if (finding.line < 1 || number > lines.size()) return "";
  const std::string& line = lines[number - 1];
  std::string text = absl::StrCat("    | ", CleanLine(line), "\n");
  if (finding.column < 1) return text;
  const size_t before =
      std::min(static_cast<size_t>(finding.column) - 1, line.size());
  const size_t width = Width(CleanLine(line.substr(0, before)));
  return absl::StrCat(text, "    | ", std::string(width, ' '), "^\n");
}

std::string Place(const Finding& finding) {
  if (finding.line < 1) return finding.path;
  if (finding.column < 1) return absl::StrCat(finding.path, ":", finding.line);
  return absl::StrCat(finding.path, ":", finding.line, ":", finding.column);
}

}  // namespace

std::string FindingText(const Finding& finding,
                        const std::map<std::string, std::string>& files,
                        bool with_help) {
  std::string text =
      CleanLine(absl::StrCat(Place(finding), ": ", finding.message)) + "\n";
  const auto file = files.find(finding.path);
  if (file != files.end()) text += SourceLine(file->second, finding);
  if (!finding.advice.empty()) {
    text += WrapAfter("    do this: ", CleanLine(finding.advice), 6);
  }
  if (with_help) {
    absl::StrAppend(&text, "    more: turnstone rules help ", finding.id, "\n");
  }
  return text;
}

std::string FindingJson(const Finding& finding) {
  const nlohmann::ordered_json json = {
      {"path", finding.path},     {"line", finding.line},
      {"column", finding.column}, {"message", finding.message},
      {"advice", finding.advice}, {"id", finding.id}};
  return json.dump(-1, ' ', false,
                   nlohmann::ordered_json::error_handler_t::replace);
}

std::string FindingsText(const std::vector<Finding>& findings,
                         const std::map<std::string, std::string>& files,
                         bool json) {
  std::string text;
  std::set<std::string> helped;
  for (const Finding& finding : findings) {
    text += json ? FindingJson(finding) + "\n"
                 : FindingText(finding, files,
                               /*with_help=*/helped.insert(finding.id).second);
  }
  return text;
}

}  // namespace turnstone::cli

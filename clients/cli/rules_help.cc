#include <absl/strings/ascii.h>
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "clients/cli/commands.h"
#include "clients/cli/render/text.h"
#include "rules/check/help.h"
#include "rules/check/suggest.h"

namespace turnstone::cli {
namespace {

// The sentence below the heading.
std::string SentenceOf(const std::string& page) {
  const std::vector<std::string> parts = absl::StrSplit(page, "\n\n");
  return parts.size() < 2 ? "" : parts[1];
}

// Paragraphs are wrapped; indented examples stay as they are.
std::string HelpPage(const std::string& page) {
  const std::vector<std::string> parts =
      absl::StrSplit(absl::StripTrailingAsciiWhitespace(page), "\n\n");
  std::string text;
  for (const std::string& part : parts) {
    if (!text.empty()) text += "\n";
    if (absl::StartsWith(part, "    ")) {
      absl::StrAppend(&text, part, "\n");
    } else {
      std::string paragraph = part;
      std::replace(paragraph.begin(), paragraph.end(), '\n', ' ');
      text += PlainMarkdown(paragraph, 0);
    }
  }
  return text;
}

std::string HelpList(const std::vector<std::string>& ids) {
  size_t width = 0;
  for (const std::string& id : ids) width = std::max(width, id.size() + 2);
  std::string text;
  for (const std::string& id : ids) {
    text +=
        WrapAfter(Pad(id, width), SentenceOf(*HelpFor(id)), width, kTableWidth);
  }
  return text;
}

std::string HelpJson(const std::string& id) {
  return nlohmann::ordered_json{{"id", id}, {"help", *HelpFor(id)}}.dump();
}

// There are too many to name them all.
absl::Status NoSuchId(const std::string& id,
                      const std::vector<std::string>& ids) {
  const std::string* nearest = Nearest(id, ids);
  return absl::NotFoundError(absl::StrCat(
      "there is no finding \"", id, "\"; ",
      nearest == nullptr ? "" : absl::StrCat("did you mean ", *nearest, "? "),
      "\"turnstone rules help\" lists them all"));
}

ExitCode TellHelp(const Console& console, const Settings& settings,
                  const std::string& id) {
  const std::vector<std::string> ids = FindingIds();
  if (!id.empty() && HelpFor(id) == nullptr) {
    return ReportUsage(console, NoSuchId(id, ids));
  }
  if (settings.json) {
    for (const std::string& each : ids) {
      if (id.empty() || each == id) console.out << HelpJson(each) << "\n";
    }
  } else {
    console.out << (id.empty() ? HelpList(ids) : HelpPage(*HelpFor(id)));
  }
  return ExitCode::kDone;
}

}  // namespace

void AddRulesHelp(CLI::App& rules, Command& chosen) {
  auto* help = rules.add_subcommand(
      "help", "what a finding of rules check means, or which there are");
  auto id = std::make_shared<std::string>();
  help->add_option("ID", *id, "as rules check names it: rule-without-source");
  help->callback([id, &chosen] {
    chosen = [id](const Console& console, const Settings& settings) {
      return TellHelp(console, settings, *id);
    };
  });
}

}  // namespace turnstone::cli

#include "rules/check/help.h"

#include <map>

namespace turnstone {
namespace {

const std::map<std::string, std::string>& Pages() {
  static const auto* const pages = new std::map<std::string, std::string>{
#include "help_pages.inc"  // {id, text}, made from help/ by CMakeLists.txt
  };
  return *pages;
}

}  // namespace

const std::string* HelpFor(const std::string& id) {
  const auto page = Pages().find(id);
  return page == Pages().end() ? nullptr : &page->second;
}

std::vector<std::string> FindingIds() {
  std::vector<std::string> ids;
  ids.reserve(Pages().size());
  for (const auto& [id, ignored] : Pages()) ids.push_back(id);
  return ids;
}

}  // namespace turnstone

// Every kind of finding has a page, and every page a kind of finding.
// Source: common practice, no source.
#include "rules/check/help.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

namespace turnstone {
namespace {

using ::testing::Contains;
using ::testing::IsSubsetOf;
using ::testing::SizeIs;
using ::testing::StartsWith;

// All text of rules/check, in no order.
std::string Sources() {
  std::ostringstream text;
  for (const auto& entry : std::filesystem::directory_iterator(
           TURNSTONE_SOURCE_DIR "/rules/check")) {
    if (entry.is_regular_file()) {
      text << std::ifstream(entry.path()).rdbuf();
    }
  }
  return text.str();
}

TEST(Help, HasAPageForEveryIdThatIsReported) {
  const std::string sources = Sources();
  const std::regex report("Report\\(\\s*\"([a-z]+(-[a-z]+)+)\",");
  std::set<std::string> reported;
  for (std::sregex_iterator it(sources.begin(), sources.end(), report), end;
       it != end; ++it) {
    reported.insert((*it)[1]);
  }
  EXPECT_THAT(reported, SizeIs(::testing::Gt(90)));
  EXPECT_THAT(reported, IsSubsetOf(FindingIds()));
}

TEST(Help, HasNoPageForWhatIsNeverReported) {
  const std::string sources = Sources();
  for (const std::string& id : FindingIds()) {
    EXPECT_NE(sources.find("\"" + id + "\""), std::string::npos) << id;
  }
}

// What the listing and the wrapping count on, see help.h.
TEST(Help, HasPagesOfOneShape) {
  const std::regex shape(
      "# ([a-z-]+)\n\n[A-Z][^\n]*\\.\n\n[A-Z][^]*\\.\n\n"
      "For example:\n\n(    [^\n]*\n)+\nPut right:\n\n(    [^\n]*\n)+");
  for (const std::string& id : FindingIds()) {
    const std::string& page = *HelpFor(id);
    EXPECT_THAT(page, StartsWith("# " + id + "\n\n"));
    EXPECT_TRUE(std::regex_match(page, shape)) << page;
    EXPECT_EQ(page.find('`'), std::string::npos) << id;
  }
}

TEST(Help, KnowsItsIdsOnly) {
  EXPECT_THAT(FindingIds(), Contains("rule-without-source"));
  EXPECT_EQ(HelpFor("rule-without-sauce"), nullptr);
  EXPECT_EQ(HelpFor(""), nullptr);
}

}  // namespace
}  // namespace turnstone

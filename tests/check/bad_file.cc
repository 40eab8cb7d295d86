#include "tests/check/bad_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/check/help.h"
#include "rules/check/load.h"
#include "tests/check/good_files.h"

namespace turnstone {

using ::testing::ElementsAreArray;

void ExpectFindings(const std::string& path, const BadFile& bad) {
  const LoadResult result = LoadConfiguration(
      GoodFilesBut(path, bad.from, bad.to), {.complete = true});
  std::vector<std::string> found;
  std::vector<std::string> ids;
  for (const Finding& finding : result.findings) {
    EXPECT_EQ(finding.path, path) << finding.ToString();
    EXPECT_NE(HelpFor(finding.id), nullptr) << finding.ToString();
    ids.push_back(finding.id);
    found.push_back(finding.ToString().substr(path.size()));
  }
  EXPECT_THAT(found, ElementsAreArray(bad.findings));
  if (!bad.ids.empty()) {
    EXPECT_THAT(ids, ElementsAreArray(bad.ids));
  }
  EXPECT_FALSE(result.configuration.has_value());
}

}  // namespace turnstone

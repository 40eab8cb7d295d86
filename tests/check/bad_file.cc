#include "tests/check/bad_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "tests/check/good_files.h"

namespace turnstone {

void ExpectFindings(const std::string& path, const BadFile& bad) {
  const LoadResult result = LoadConfiguration(
      GoodFilesBut(path, bad.from, bad.to), {.complete = true});
  std::vector<std::string> found;
  for (const Finding& finding : result.findings) {
    EXPECT_EQ(finding.path, path) << finding.ToString();
    found.push_back(finding.ToString().substr(path.size()));
  }
  EXPECT_THAT(found, ::testing::ElementsAreArray(bad.findings));
  EXPECT_FALSE(result.configuration.has_value());
}

}  // namespace turnstone

// Source: common practice, no source; a day is 24 hours (ISO 31-1 / SI brochure
// table 8).
#include "clients/cli/duration.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <utility>

namespace turnstone::cli {
namespace {

TEST(Duration, ReadsDaysHoursAndMinutes) {
  const std::pair<std::string, absl::Duration> cases[] = {
      {"26h", absl::Hours(26)},
      {"3d", absl::Hours(72)},
      {"90m", absl::Minutes(90)},
      {"1d6h", absl::Hours(30)},
      {"1d6h30m", absl::Minutes(30 * 60 + 30)},
      {"0d1m", absl::Minutes(1)},
      {"999999d", absl::Hours(24 * int64_t{999999})},
  };
  for (const auto& [text, duration] : cases) {
    const auto parsed = ParseDuration(text);
    ASSERT_TRUE(parsed.ok()) << text;
    EXPECT_EQ(*parsed, duration) << text;
  }
}

TEST(Duration, RefusesAllElseAndSaysWhatToWrite) {
  for (const std::string text :
       {"", "h", "26", "26 h", "26x", "-1h", "+1h", "1.5h", "0h", "0d0m",
        "6h1d", "1h1h", "1000000d", "1w", "1h\n"}) {
    EXPECT_THAT(std::string(ParseDuration(text).status().message()),
                testing::HasSubstr("26h, 3d, 90m or 1d6h"))
        << text;
  }
}

}  // namespace
}  // namespace turnstone::cli

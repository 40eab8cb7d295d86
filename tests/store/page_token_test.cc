// Page tokens that are not ours are refused. No outside source: the contract
// is Store::ListAlerts.
#include "service/store/page_token.h"

#include <absl/strings/escaping.h>

#include "tests/store/fixture.h"

namespace turnstone {
namespace {

TEST(PageTokenTest, ComesBackAsThePlaceItStandsFor) {
  const AlertPlace place{.priority = 3, .raised_at = -5, .number = 1234567};
  const absl::StatusOr<AlertPlace> back = FromPageToken(ToPageToken(place));
  ASSERT_TRUE(back.ok()) << back.status();
  EXPECT_EQ(back->priority, 3);
  EXPECT_EQ(back->raised_at, -5);
  EXPECT_EQ(back->number, 1234567);
}

TEST(PageTokenTest, GarbageIsRefused) {
  const std::string good = ToPageToken({3, 5, 7});
  for (const std::string& token :
       {std::string("x"), std::string("A-17"), std::string("1:3:5:7"),
        std::string(1, '\0'), std::string(100000, 'A'), good + "A",
        good.substr(1), good + " ", good + "=",
        absl::WebSafeBase64Escape("1:3:5"),
        absl::WebSafeBase64Escape("1:3:5:7:9"),
        absl::WebSafeBase64Escape("2:3:5:7"),
        absl::WebSafeBase64Escape("1:3:5: 7"),
        absl::WebSafeBase64Escape("1:3:5:"),
        absl::WebSafeBase64Escape("1:3:5:99999999999999999999")}) {
    EXPECT_THAT(FromPageToken(token).status(),
                IsError(absl::StatusCode::kInvalidArgument, "page_token"))
        << token.substr(0, 100);
  }
}

}  // namespace
}  // namespace turnstone

// The reserve on a real file system.
#include "service/store/disk_space.h"

#include <filesystem>

#include "tests/store/fixture.h"

namespace turnstone {
namespace {

constexpr int64_t kBytes = int64_t{8} << 20;

class DiskSpaceTest : public StoreTest {
 protected:
  DiskSpaceTest() { std::filesystem::create_directory(folder()); }
  std::string reserve() const { return folder() + "/reserve"; }
};

TEST_F(DiskSpaceTest, ReserveIsSetAsideOnceAndGivenBack) {
  FolderSpace space(folder(), kBytes);
  EXPECT_GT(space.Free(), 0);
  EXPECT_EQ(SizeOf(reserve()), 0U);
  for (int time = 0; time < 2; ++time) {
    EXPECT_TRUE(space.Hold().ok());
    EXPECT_EQ(SizeOf(reserve()), static_cast<size_t>(kBytes));
  }
  EXPECT_EQ(ModeOf(reserve()), 0600U);
  space.Release();
  space.Release();
  EXPECT_FALSE(std::filesystem::exists(reserve()));
}

// After a crash it is there: the next life holds it without more room.
TEST_F(DiskSpaceTest, ReserveOfAnEarlierLifeIsTakenOver) {
  ASSERT_TRUE(FolderSpace(folder(), kBytes).Hold().ok());
  FolderSpace space(folder(), kBytes);
  EXPECT_TRUE(space.Hold().ok());
  space.Release();
  EXPECT_FALSE(std::filesystem::exists(reserve()));
}

TEST_F(DiskSpaceTest, WhereThereIsNoRoomNothingIsLeftBehind) {
  FolderSpace space(folder(), int64_t{1} << 62);
  EXPECT_THAT(space.Hold(),
              IsError(absl::StatusCode::kResourceExhausted, reserve()));
  EXPECT_FALSE(std::filesystem::exists(reserve()));
}

TEST_F(DiskSpaceTest, FolderThatIsNotThereHasNoRoom) {
  FolderSpace space(folder() + "/none", kBytes);
  EXPECT_EQ(space.Free(), 0);
  EXPECT_FALSE(space.Hold().ok());
}

}  // namespace
}  // namespace turnstone

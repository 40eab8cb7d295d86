// The disk fails. BrokeDurable: what was acknowledged is there after opening
// again, and a batch that was not is there whole or not at all.
#include <absl/strings/str_cat.h>

#include <filesystem>

#include "tests/store/failing_vfs.h"
#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using absl::StatusCode;
using testing::SizeIs;
using Call = FailingVfs::Call;

class FaultTest : public StoreTest {
 protected:
  void TearDown() override { Close(); }  // before its file system goes

  // Every batch up to the last is there whole; returns how many.
  int64_t ExpectWholeBatches() {
    const int64_t last = Get(store().Recover()).last_sequence;
    const auto count = static_cast<size_t>(last);
    EXPECT_THAT(Get(store().EventsOf({"harbour-row", "p-1"}, SiteScope::All())),
                SizeIs(count));
    EXPECT_THAT(Get(store().AlertsAfterPosition("", 0, 1000, SiteScope::All())),
                SizeIs(count));
    EXPECT_THAT(
        Get(store().DueBy("", absl::InfiniteFuture(), 1000, SiteScope::All())),
        SizeIs(count));
    return last;
  }

  void ExpectEveryCallRefused() {
    const auto refused = IsError(StatusCode::kUnavailable, "restart");
    const ParticipantKey key{"harbour-row", "p-1"};
    EXPECT_THAT(store().Commit(MakeBatch(2)), refused);
    EXPECT_THAT(store().Recover().status(), refused);
    EXPECT_THAT(store().FindEvent("urn:x", "e-1").status(), refused);
    EXPECT_THAT(store().EventsOf(key, SiteScope::All()).status(), refused);
    EXPECT_THAT(store().AlertsOf(key, SiteScope::All()).status(), refused);
    EXPECT_THAT(store().FindParticipant(key).status(), refused);
    EXPECT_THAT(store().DueBy("", Noon(), 1, SiteScope::All()).status(),
                refused);
    EXPECT_THAT(store().NextDue().status(), refused);
    EXPECT_THAT(store().FindAlert("A-1", SiteScope::All()).status(), refused);
    EXPECT_THAT(store().ListAlerts({}, 1, SiteScope::All()).status(), refused);
    EXPECT_THAT(
        store().AlertsAfterPosition("", 0, 1, SiteScope::All()).status(),
        refused);
  }

  // Fills about 4.5 MB of the log.
  static WriteBatch LargeBatch(int number) {
    WriteBatch batch = MakeBatch(number);
    for (int i = 0; i < 4400; ++i) {
      batch.audit.push_back(MakeAudit("filler"));
      batch.audit.back().detail = std::string(4000, 'x');
    }
    return batch;
  }

  FailingVfs vfs_;
  int64_t room_ = int64_t{256} << 20;
};

TEST_F(FaultTest, AfterAFailedSyncNothingIsTriedAgain) {
  Open();
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  vfs_.FailOnce(Call::kSync, 1, "-wal", SQLITE_IOERR_FSYNC);
  EXPECT_THAT(store().Commit(MakeBatch(2)),
              IsError(StatusCode::kUnavailable, "look at the disk"));
  ASSERT_TRUE(vfs_.Failed());

  const int calls = vfs_.CountAll();
  ExpectEveryCallRefused();
  Close();
  EXPECT_EQ(vfs_.CountAll(), calls) << "the disk was touched again";

  Open();
  const int64_t kept = ExpectWholeBatches();
  EXPECT_GE(kept, 1);
  EXPECT_LE(kept, 2);
  EXPECT_TRUE(store().Commit(MakeBatch(static_cast<int>(kept) + 1)).ok());
}

// The failed sync may have left the batch in the system's cache only, where it
// looks written. Opening must not build on it before it is on disk.
TEST_F(FaultTest, OpeningWritesTheLogOnceMoreBeforeUsingIt) {
  Open();
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  vfs_.FailOnce(Call::kSync, 1, "-wal", SQLITE_IOERR_FSYNC);
  EXPECT_FALSE(store().Commit(MakeBatch(2)).ok());
  Close();
  EXPECT_GT(SizeOf(database() + "-wal"), 0U);
  const int syncs = vfs_.Count(Call::kSync, ".db");
  Open();
  EXPECT_GT(vfs_.Count(Call::kSync, ".db"), syncs);
  EXPECT_EQ(SizeOf(database() + "-wal"), 0U);
}

TEST_F(FaultTest, FullDiskSaysSoChangesNothingAndLeavesTheStoreUsable) {
  Open();
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  vfs_.FailOnce(Call::kWrite, 1, "-wal", SQLITE_FULL);
  EXPECT_THAT(store().Commit(MakeBatch(2)),
              IsError(StatusCode::kResourceExhausted, "free space"));
  EXPECT_EQ(ExpectWholeBatches(), 1);
  EXPECT_TRUE(store().Commit(MakeBatch(2)).ok());
  EXPECT_EQ(ExpectWholeBatches(), 2);
  Reopen();
  EXPECT_EQ(ExpectWholeBatches(), 2);
}

// A batch beyond SQLite's cache of pages is written to the log before its end.
TEST_F(FaultTest, FullDiskInTheMiddleOfALargeBatchDoesTheSame) {
  Open();
  vfs_.SetRoom(&room_);
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  for (int again = 0; again < 3; ++again) {
    room_ = 1 << 20;  // the log keeps what it took
    EXPECT_THAT(store().Commit(LargeBatch(2)),
                IsError(StatusCode::kResourceExhausted, "free space"));
    EXPECT_EQ(ExpectWholeBatches(), 1);
  }
  room_ = int64_t{256} << 20;
  EXPECT_TRUE(store().Commit(LargeBatch(2)).ok());
  EXPECT_EQ(ExpectWholeBatches(), 2);
  Reopen();
  EXPECT_EQ(ExpectWholeBatches(), 2);
}

// The commit was durable before: it is no error, and the log is merged later.
TEST_F(FaultTest, FullDiskWhileTheLogIsMergedIsNoError) {
  Open();
  vfs_.SetRoom(&room_);
  vfs_.FailOnce(Call::kWrite, 1, ".db", SQLITE_FULL);
  EXPECT_TRUE(store().Commit(LargeBatch(1)).ok());
  ASSERT_TRUE(vfs_.Failed());
  EXPECT_EQ(ExpectWholeBatches(), 1);
  const size_t unmerged = SizeOf(database());
  for (int number = 2; number <= 3; ++number) {
    ASSERT_TRUE(store().Commit(LargeBatch(number)).ok());
  }
  EXPECT_GT(SizeOf(database()), unmerged + (size_t{8} << 20));
  EXPECT_EQ(ExpectWholeBatches(), 3);
}

// A disk that is full for long: the log is written over from its beginning as
// soon as it is merged, so that what was there before need not grow.
TEST_F(FaultTest, MergingTheLogMakesRoomOnAFullDisk) {
  Open();
  vfs_.SetRoom(&room_);
  int number = 1;
  while (SizeOf(database() + "-wal") < size_t{1} << 20) {
    ASSERT_TRUE(store().Commit(MakeBatch(number++)).ok());
  }
  room_ = int64_t{256} << 10;  // for the database file
  absl::Status refused = absl::OkStatus();
  while (refused.ok()) refused = store().Commit(MakeBatch(number++));
  EXPECT_THAT(refused, IsError(StatusCode::kResourceExhausted, ""));
  EXPECT_TRUE(store().Commit(MakeBatch(--number)).ok());
  EXPECT_EQ(ExpectWholeBatches(), number);
}

TEST_F(FaultTest, FailedSyncOfAMergeAfterAFullDiskStopsTheStore) {
  Open();
  vfs_.SetRoom(&room_);
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  room_ = 0;
  vfs_.FailOnce(Call::kSync, 1, "", SQLITE_IOERR_FSYNC);
  EXPECT_THAT(store().Commit(LargeBatch(2)),
              IsError(StatusCode::kUnavailable, "look at the disk"));
  ExpectEveryCallRefused();
}

// SQLite's own merging of the log would keep this error to itself.
TEST_F(FaultTest, FailedMergeOfTheLogStopsTheStoreAndLosesNothing) {
  Open();
  vfs_.FailOnce(Call::kSync, 1, ".db", SQLITE_IOERR_FSYNC);
  EXPECT_THAT(store().Commit(LargeBatch(1)),
              IsError(StatusCode::kUnavailable, "look at the disk"));
  ASSERT_TRUE(vfs_.Failed());
  ExpectEveryCallRefused();
  Reopen();
  EXPECT_EQ(ExpectWholeBatches(), 1);
}

TEST_F(FaultTest, LogIsMergedBeforeItGrowsWithoutBound) {
  Open();
  for (int number = 1; number <= 5; ++number) {
    ASSERT_TRUE(store().Commit(LargeBatch(number)).ok());
    EXPECT_LT(SizeOf(database() + "-wal"), size_t{40} << 20);
  }
}

class NthFaultTest : public FaultTest, public testing::WithParamInterface<int> {
 protected:
  // Opens and commits three batches; returns how many were acknowledged.
  int Run() {
    absl::StatusOr<std::unique_ptr<Store>> opened = OpenSqliteStore(folder());
    if (!opened.ok()) return 0;
    for (int number = 1; number <= 3; ++number) {
      if (!(*opened)->Commit(MakeBatch(number)).ok()) return number - 1;
    }
    return 3;
  }
};

// Every write, sync and truncation of a short life fails once, each in a life
// of its own.
TEST_P(NthFaultTest, LosesNothingThatWasAcknowledged) {
  int nth = 0;
  for (bool failed = true; failed;) {
    ++nth;
    vfs_.FailOnce(nth, "", GetParam());
    const int acknowledged = Run();
    failed = vfs_.Failed();
    EXPECT_TRUE(failed || acknowledged == 3);
    vfs_.Heal();
    SCOPED_TRACE(absl::StrCat("call ", nth, ", acknowledged ", acknowledged));
    Open();
    const int64_t kept = ExpectWholeBatches();
    EXPECT_GE(kept, acknowledged);
    EXPECT_LE(kept, acknowledged + 1);
    EXPECT_TRUE(store().Commit(MakeBatch(static_cast<int>(kept) + 1)).ok());
    Close();
    std::filesystem::remove_all(folder());
  }
  EXPECT_GT(nth, 20);  // the loop did go through a life
}

// The disk is full at every write of a short life, each in a life of its own,
// and has room again at once.
TEST_F(FaultTest, FullDiskAtAnyWriteIsSurvivedWithoutARestart) {
  int nth = 0;
  for (bool failed = true; failed;) {
    ++nth;
    SCOPED_TRACE(nth);
    Open();
    vfs_.FailOnce(Call::kWrite, nth, "", SQLITE_FULL);
    for (int number = 1; number <= 3; ++number) {
      const absl::Status first = store().Commit(MakeBatch(number));
      EXPECT_EQ(ExpectWholeBatches(), first.ok() ? number : number - 1);
      if (first.ok()) continue;
      EXPECT_THAT(first, IsError(StatusCode::kResourceExhausted, ""));
      EXPECT_TRUE(store().Commit(MakeBatch(number)).ok());
    }
    failed = vfs_.Failed();
    vfs_.Heal();
    Reopen();
    EXPECT_EQ(ExpectWholeBatches(), 3);
    Close();
    std::filesystem::remove_all(folder());
  }
  EXPECT_GT(nth, 20);  // the loop did go through a life
}

INSTANTIATE_TEST_SUITE_P(All, NthFaultTest,
                         testing::Values(SQLITE_IOERR_WRITE, SQLITE_FULL),
                         [](const auto& instance) {
                           return instance.param == SQLITE_FULL ? "Full"
                                                                : "InputOutput";
                         });

}  // namespace
}  // namespace turnstone

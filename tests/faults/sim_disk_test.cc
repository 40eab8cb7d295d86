// The simulated disk does what its fault model says. What Linux does after a
// failed sync: Rebello et al., "Can Applications Recover from fsync Failures?",
// USENIX ATC 2020 (from memory).
#include "tests/faults/sim_disk.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace turnstone::faults {
namespace {

using Op = SimDisk::Op;

constexpr Fate kNothingIsKept = {.kept = 0, .torn = 0};
constexpr Fate kEverythingIsKept = {.kept = 1000, .torn = 0};
constexpr Fate kEverythingIsTorn = {.kept = 0, .torn = 1000};

class SimDiskTest : public testing::Test {
 protected:
  SimDiskTest() : disk_(1) { Open(); }

  void Open() { ASSERT_EQ(disk_.Open("a-wal", 0, file_), SQLITE_OK); }
  int Write(size_t at, const std::string& bytes) {
    return disk_.Write(*file_, at, bytes);
  }
  int Sync() { return disk_.Sync(*file_); }
  // What is read.
  std::string Seen() { return file_->file->bytes(); }
  // What is read after the power was gone.
  std::string Left(const Fate& fate) {
    disk_.SetFate(fate);
    disk_.CutPower();
    disk_.Start();
    Open();
    return Seen();
  }

  SimDisk disk_;
  std::unique_ptr<SimDisk::OpenFile> file_;
};

TEST_F(SimDiskTest, WhatWasSyncedSurvives) {
  EXPECT_EQ(Write(0, "synced"), SQLITE_OK);
  EXPECT_EQ(Sync(), SQLITE_OK);
  EXPECT_EQ(Write(2, "!!"), SQLITE_OK);
  EXPECT_EQ(disk_.Truncate(*file_, 4), SQLITE_OK);
  EXPECT_EQ(Seen(), "sy!!");
  EXPECT_EQ(Left(kNothingIsKept), "synced");
}

TEST_F(SimDiskTest, WhatWasNotSyncedMayBeThereOrNot) {
  EXPECT_EQ(Sync(), SQLITE_OK);  // its name
  EXPECT_EQ(Write(0, "pending"), SQLITE_OK);
  EXPECT_EQ(Left(kEverythingIsKept), "pending");
  EXPECT_EQ(Write(0, "PENDING"), SQLITE_OK);
  EXPECT_EQ(Left(kNothingIsKept), "pending");
}

// In no particular order: a later write may be there without an earlier one.
TEST_F(SimDiskTest, EachWriteMeetsItsOwnFate) {
  bool later_alone = false;
  bool earlier_alone = false;
  for (int i = 0; i < 100; ++i) {
    EXPECT_EQ(disk_.Truncate(*file_, 0), SQLITE_OK);
    EXPECT_EQ(Sync(), SQLITE_OK);
    EXPECT_EQ(Write(0, "1"), SQLITE_OK);
    EXPECT_EQ(Write(1, "2"), SQLITE_OK);
    const std::string left = Left({.kept = 500, .torn = 0});
    later_alone = later_alone || left == std::string("\0002", 2);
    earlier_alone = earlier_alone || left == "1";
  }
  EXPECT_TRUE(later_alone && earlier_alone);
}

TEST_F(SimDiskTest, WritesAreTorn) {
  const std::string before(2048, 'a');
  const std::string after(2048, 'b');
  bool prefix = false;
  bool sectors = false;
  for (int i = 0; i < 100; ++i) {
    EXPECT_EQ(Write(0, before), SQLITE_OK);
    EXPECT_EQ(Sync(), SQLITE_OK);
    EXPECT_EQ(Write(0, after), SQLITE_OK);
    const std::string left = Left(kEverythingIsTorn);
    ASSERT_EQ(left.size(), 2048U);
    const size_t part = left.find('a');
    prefix = prefix || (part != std::string::npos && part % 512 != 0);
    sectors = sectors || left.find("ab") == 511 || left.find("ab") == 1023;
  }
  EXPECT_TRUE(prefix && sectors);
}

TEST_F(SimDiskTest, AfterAFailedSyncTheBytesAreLostThoughReadsSeeThem) {
  EXPECT_EQ(Write(0, "old"), SQLITE_OK);
  EXPECT_EQ(Sync(), SQLITE_OK);
  EXPECT_EQ(Write(0, "new"), SQLITE_OK);
  disk_.SetFate(kNothingIsKept);
  disk_.Fail({.only = Op::kSync});
  EXPECT_EQ(Sync(), SQLITE_IOERR_FSYNC);
  EXPECT_EQ(Seen(), "new");
  EXPECT_EQ(Sync(), SQLITE_OK);
  EXPECT_EQ(Seen(), "new");
  EXPECT_EQ(Left(kEverythingIsKept), "old");
}

TEST_F(SimDiskTest, NameThatWasNeverSyncedMayGoAndOneDeletedMayComeBack) {
  bool went = false;
  bool stayed = false;
  bool came_back = false;
  for (int i = 0; i < 100; ++i) {
    disk_.Erase();
    Open();
    EXPECT_EQ(Write(0, "x"), SQLITE_OK);
    disk_.SetFate(kEverythingIsKept);
    disk_.CutPower();
    disk_.Start();
    (disk_.Exists("a-wal") ? stayed : went) = true;
    Open();
    EXPECT_EQ(Sync(), SQLITE_OK);
    EXPECT_EQ(disk_.Delete("a-wal", false), SQLITE_OK);
    EXPECT_FALSE(disk_.Exists("a-wal"));
    disk_.CutPower();
    disk_.Start();
    came_back = came_back || disk_.Exists("a-wal");
  }
  EXPECT_TRUE(went && stayed && came_back);
  Open();
  EXPECT_EQ(Sync(), SQLITE_OK);
  EXPECT_EQ(disk_.Delete("a-wal", true), SQLITE_OK);
  disk_.CutPower();
  disk_.Start();
  EXPECT_FALSE(disk_.Exists("a-wal"));
}

TEST_F(SimDiskTest, DeadProcessDoesNothingMoreAndLeavesWhatItWrote) {
  EXPECT_EQ(Write(0, "abc"), SQLITE_OK);
  disk_.StopAt(2);
  EXPECT_EQ(Write(1, "B"), SQLITE_OK);
  EXPECT_NE(Sync(), SQLITE_OK);
  EXPECT_TRUE(disk_.stopped());
  EXPECT_NE(Write(0, "zzz"), SQLITE_OK);
  disk_.Start();
  EXPECT_NE(Write(0, "zzz"), SQLITE_OK) << "the file is of a dead process";
  Open();
  EXPECT_EQ(Seen(), "aBc");
}

TEST_F(SimDiskTest, NthOperationFailsOnceOrForEver) {
  disk_.Fail({.nth = 2});
  EXPECT_EQ(Write(0, "1"), SQLITE_OK);
  EXPECT_EQ(disk_.Truncate(*file_, 0), SQLITE_IOERR_TRUNCATE);
  EXPECT_TRUE(disk_.failed());
  EXPECT_EQ(disk_.Truncate(*file_, 0), SQLITE_OK);
  disk_.Fail({.for_ever = true, .code = SQLITE_FULL, .suffix = "-wal"});
  EXPECT_EQ(disk_.Delete("a-journal", false), SQLITE_IOERR_DELETE_NOENT);
  EXPECT_EQ(Sync(), SQLITE_FULL);
  EXPECT_EQ(Sync(), SQLITE_FULL);
  disk_.Heal();
  EXPECT_EQ(Sync(), SQLITE_OK);
  EXPECT_EQ(disk_.Count(Op::kSync, "-wal"), 3);
}

TEST_F(SimDiskTest, FullDiskRefusesToGrowAndLeavesWhatFits) {
  EXPECT_EQ(Write(0, "12345"), SQLITE_OK);
  disk_.SetCapacity(8);
  EXPECT_EQ(Write(3, "abcdefgh"), SQLITE_FULL);
  EXPECT_EQ(Seen(), "123abcde");
  EXPECT_EQ(Write(0, "98765432"), SQLITE_OK) << "it does not grow";
  disk_.SetCapacity(std::nullopt);
  EXPECT_EQ(Write(8, "9"), SQLITE_OK);
  EXPECT_EQ(disk_.used(), 9U);
}

// The whole of SQLite on top, told apart by nothing but the seed.
std::string Life(uint64_t seed) {
  SimDisk disk(seed);
  disk.StopAt(40);
  sqlite3* db = nullptr;
  EXPECT_EQ(sqlite3_open("x.db", &db), SQLITE_OK);
  sqlite3_exec(db,
               "PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = WAL;"
               "CREATE TABLE t (x); INSERT INTO t VALUES (randomblob(9000));"
               "INSERT INTO t VALUES (randomblob(9000));"
               "INSERT INTO t VALUES (randomblob(9000))",
               nullptr, nullptr, nullptr);
  sqlite3_close(db);
  EXPECT_TRUE(disk.stopped());
  disk.CutPower();
  disk.Start();
  std::unique_ptr<SimDisk::OpenFile> log;
  EXPECT_EQ(disk.Open("x.db-wal", 0, log), SQLITE_OK);
  return log->file->bytes();
}

TEST(SimDiskSeedTest, EveryByteFollowsFromTheSeed) {
  EXPECT_FALSE(Life(7).empty());
  EXPECT_EQ(Life(7), Life(7));
  EXPECT_NE(Life(7), Life(8));
}

}  // namespace
}  // namespace turnstone::faults

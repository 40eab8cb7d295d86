// BrokeDurable: what a store shows is on disk, also after a sync failed, the
// process ended and another one took over: it answers repeats from it without
// writing anything.
#include <gtest/gtest.h>

#include <filesystem>
#include <memory>
#include <string>
#include <utility>

#include "service/store/sqlite_store.h"
#include "tests/faults/place.h"
#include "tests/faults/sim_disk.h"

namespace turnstone::faults {
namespace {

constexpr int kBefore = 5;  // events that were acknowledged
// An event takes several pages of the database, of which some may be lost.
constexpr size_t kLong = 20000;

WriteBatch OneEvent(int64_t number) {
  WriteBatch batch;
  StoredEvent& stored = batch.events.emplace_back();
  stored.sequence = number;
  stored.event.set_source("urn:test");
  stored.event.set_event_id("e-" + std::to_string(number));
  stored.event.set_site("s1");
  stored.event.set_participant(std::string(kLong, 'p'));
  batch.now = absl::FromUnixSeconds(1800000000 + number);
  return batch;
}

class ReopenedStoreTest : public testing::TestWithParam<uint64_t> {
 protected:
  ReopenedStoreTest() : disk_(GetParam()), folder_(OwnFolder("reopened")) {
    std::filesystem::remove_all(folder_);
  }
  ~ReopenedStoreTest() override { std::filesystem::remove_all(folder_); }

  std::unique_ptr<Store> Open() {
    disk_.Start();
    absl::StatusOr<std::unique_ptr<Store>> store = OpenSqliteStore(folder_);
    EXPECT_TRUE(store.ok()) << store.status();
    return store.ok() ? *std::move(store) : nullptr;
  }
  // A life in which all goes well, and one that ends when a sync fails.
  void FailASync() {
    auto store = Open();
    ASSERT_NE(store, nullptr);
    for (int number = 1; number <= kBefore; ++number) {
      ASSERT_TRUE(store->Commit(OneEvent(number)).ok());
    }
    store = nullptr;
    store = Open();
    ASSERT_NE(store, nullptr);
    // The first is that of the new log's head.
    disk_.Fail({.nth = 2, .only = SimDisk::Op::kSync, .suffix = "-wal"});
    ASSERT_FALSE(store->Commit(OneEvent(kBefore + 1)).ok());
  }
  // How many events a new process finds.
  int64_t Found(bool power_goes_then) {
    const auto store = Open();
    if (store == nullptr) return -1;
    const auto recovered = store->Recover();
    const auto events =
        store->EventsAfter("s1", 0, 2 * kBefore, SiteScope::All());
    if (power_goes_then) disk_.CutPower();
    if (!recovered.ok() || !events.ok()) return -1;
    EXPECT_EQ(events->size(), recovered->last_sequence);
    return recovered->last_sequence;
  }

  SimDisk disk_;
  std::string folder_;
};

TEST_P(ReopenedStoreTest, ShowsNothingThatAPowerCutTakesBack) {
  FailASync();
  const int64_t shown = Found(/*power_goes_then=*/true);
  EXPECT_GE(shown, kBefore);
  EXPECT_EQ(Found(/*power_goes_then=*/false), shown);
}

// Merging the log changes the database file page by page; what is left of the
// log must mend it.
TEST_P(ReopenedStoreTest, IsWholeWhenThePowerGoesWhileItIsOpened) {
  bool opened = false;
  for (int64_t operation = 1; !opened; ++operation) {
    FailASync();
    disk_.Start();
    disk_.StopAt(operation);
    opened = OpenSqliteStore(folder_).ok();
    disk_.CutPower();
    const int64_t found = Found(/*power_goes_then=*/false);
    EXPECT_GE(found, kBefore) << "stopped in operation " << operation;
    disk_.Erase();
    std::filesystem::remove_all(folder_);
  }
}

// It may hold what was erased.
TEST_P(ReopenedStoreTest, WhatALogHeldDoesNotComeBackOnceItIsCut) {
  FailASync();
  const auto store = Open();
  disk_.CutPower();
  EXPECT_EQ(disk_.SizeOf(folder_ + "/turnstone.db-wal"), 0);
}

INSTANTIATE_TEST_SUITE_P(Seeds, ReopenedStoreTest,
                         testing::Range(uint64_t{1}, uint64_t{21}));

}  // namespace
}  // namespace turnstone::faults

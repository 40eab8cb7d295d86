// The switches of SQLite that durability rests on are in force. Sources: the
// documents "Pragma statements", "Write-Ahead Logging" and "Database File
// Format" of the SQLite project.
#include <filesystem>
#include <fstream>

#include "tests/store/failing_vfs.h"
#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using PragmaTest = StoreTest;

TEST_F(PragmaTest, ReadersOfTheFileSeeALogAndNoSharedMemory) {
  Open();
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  EXPECT_GT(SizeOf(database() + "-wal"), 0U);  // journal_mode=WAL
  EXPECT_FALSE(std::filesystem::exists(database() + "-shm"));  // EXCLUSIVE

  sqlite3* other = nullptr;
  ASSERT_EQ(sqlite3_open(database().c_str(), &other), SQLITE_OK);
  EXPECT_EQ(
      sqlite3_exec(other, "SELECT * FROM event", nullptr, nullptr, nullptr),
      SQLITE_BUSY);
  sqlite3_close(other);
  EXPECT_TRUE(store().Commit(MakeBatch(2)).ok());
}

TEST_F(PragmaTest, EveryCommitSyncsItsLogBeforeItReturns) {
  const FailingVfs vfs;  // only counts
  Open();
  for (int number = 1; number <= 5; ++number) {
    const int before = vfs.Count(FailingVfs::Call::kSync, "-wal");
    EXPECT_TRUE(store().Commit(MakeBatch(number)).ok());
    EXPECT_GT(vfs.Count(FailingVfs::Call::kSync, "-wal"), before);
  }
  Close();  // before its file system goes
}

TEST_F(PragmaTest, ClosedStoreIsOneFileInWalFormatMarkedAsOurs) {
  Open();
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  Close();
  EXPECT_FALSE(std::filesystem::exists(database() + "-wal"));
  std::ifstream file(database(), std::ios::binary);
  std::string header(100, '\0');
  file.read(header.data(), 100);
  EXPECT_EQ(header[18], 2);                 // write version: WAL
  EXPECT_EQ(header[19], 2);                 // read version: WAL
  EXPECT_EQ(header.substr(68, 4), "turn");  // application id
}

struct Lie {
  std::string pragma;
  std::string value;
};

class PragmaNotInForceTest : public StoreTest,
                             public testing::WithParamInterface<Lie> {};

TEST_P(PragmaNotInForceTest, IsRefused) {
  FailingVfs vfs;
  vfs.Pretend(GetParam().pragma, GetParam().value);
  EXPECT_THAT(OpenSqliteStore(folder()).status(),
              IsError(absl::StatusCode::kInternal,
                      "SQLite's " + GetParam().pragma + " is \"" +
                          GetParam().value + "\" and must be"));
}

INSTANTIATE_TEST_SUITE_P(
    All, PragmaNotInForceTest,
    testing::Values(Lie{"locking_mode", "normal"}, Lie{"synchronous", "1"},
                    Lie{"foreign_keys", "0"}, Lie{"temp_store", "0"},
                    Lie{"secure_delete", "0"}, Lie{"cell_size_check", "0"},
                    Lie{"journal_mode", "delete"},
                    Lie{"journal_size_limit", "-1"},
                    Lie{"wal_autocheckpoint", "1000"}),
    [](const auto& instance) { return instance.param.pragma; });

}  // namespace
}  // namespace turnstone

// Opening: who may, what is refused, and what the person in charge is told.
// Modes and lock: common practice for data about people, no source.
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using absl::StatusCode;

class OpenTest : public StoreTest {
 protected:
  absl::Status OpenStatus() { return OpenSqliteStore(folder()).status(); }

  void WriteFile(const std::string& path, const std::string& bytes) {
    std::filesystem::create_directories(folder());
    std::ofstream(path, std::ios::binary) << bytes;
  }

  static std::string ReadFile(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }
};

// Is an account without special rights while it lives.
class Unprivileged {
 public:
  Unprivileged() : before_(geteuid()) {
    if (before_ == 0) changed_ = seteuid(65534) == 0;
  }
  Unprivileged(const Unprivileged&) = delete;
  Unprivileged& operator=(const Unprivileged&) = delete;
  ~Unprivileged() {
    if (changed_) changed_ = seteuid(before_) == 0;
  }

 private:
  uid_t before_;
  bool changed_ = false;
};

TEST_F(OpenTest, OthersMayNotReadFolderOrFiles) {
  const mode_t before = umask(0);  // even when the account is careless
  Open();
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  umask(before);
  EXPECT_EQ(ModeOf(folder()), 0700U);
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder())) {
    EXPECT_EQ(ModeOf(entry.path().string()), 0600U) << entry.path();
    ++files;
  }
  EXPECT_EQ(files, 3);  // database, log, lock
}

TEST_F(OpenTest, SecondOpenInThisProcessIsRefused) {
  Open();
  EXPECT_THAT(OpenStatus(), IsError(StatusCode::kFailedPrecondition,
                                    "another turnstoned has " + folder()));
  EXPECT_TRUE(store().Commit(MakeBatch(1)).ok());  // the first is unharmed
  Close();
  EXPECT_TRUE(OpenStatus().ok());
}

TEST_F(OpenTest, SecondOpenInAnotherProcessIsRefused) {
  Open();
  const auto refused =
      IsError(StatusCode::kFailedPrecondition, "another turnstoned");
  const pid_t child = fork();
  if (child == 0) _exit(testing::Value(OpenStatus(), refused) ? 0 : 1);
  int outcome = 0;
  ASSERT_EQ(waitpid(child, &outcome, 0), child);
  EXPECT_TRUE(WIFEXITED(outcome));
  EXPECT_EQ(WEXITSTATUS(outcome), 0);
}

TEST_F(OpenTest, AnotherProgramThatHasTheFileOpenIsNamedAsTheCause) {
  Open();
  Close();
  sqlite3* other = nullptr;
  ASSERT_EQ(sqlite3_open(database().c_str(), &other), SQLITE_OK);
  ASSERT_EQ(sqlite3_exec(other, "SELECT * FROM event; BEGIN IMMEDIATE", nullptr,
                         nullptr, nullptr),
            SQLITE_OK);
  EXPECT_THAT(OpenStatus(),
              IsError(StatusCode::kFailedPrecondition, "another program"));
  sqlite3_close(other);
}

TEST_F(OpenTest, NewerSchemaIsRefusedAndLeftAlone) {
  Open();
  Close();
  Raw("PRAGMA user_version = 99");
  const std::string before = ReadFile(database());
  EXPECT_THAT(OpenStatus(),
              IsError(StatusCode::kFailedPrecondition, "newer turnstoned"));
  EXPECT_EQ(ReadFile(database()), before);
}

TEST_F(OpenTest, DatabaseOfAnotherProgramIsRefusedAndLeftAlone) {
  std::filesystem::create_directories(folder());
  Raw("CREATE TABLE recipes (name TEXT)");
  for (const char* version : {"0", "1"}) {  // 1: looks like our schema
    Raw(std::string("PRAGMA user_version = ") + version);
    const std::string before = ReadFile(database());
    EXPECT_THAT(OpenStatus(),
                IsError(StatusCode::kFailedPrecondition, "some other program"));
    EXPECT_EQ(ReadFile(database()), before);
  }
}

TEST_F(OpenTest, FileThatIsNoDatabaseIsRefusedAndLeftAlone) {
  const std::string text(5000, 'x');
  WriteFile(database(), text);
  EXPECT_THAT(OpenStatus(), IsError(StatusCode::kDataLoss, database()));
  EXPECT_EQ(ReadFile(database()), text);
}

TEST_F(OpenTest, DamageIsReported) {
  Open();
  ASSERT_TRUE(store().Commit(MakeBatch(1)).ok());
  Close();
  std::string bytes = ReadFile(database());
  bytes.replace(4096, std::string::npos, bytes.size() - 4096, '\x5a');
  WriteFile(database(), bytes);
  EXPECT_THAT(OpenStatus(), IsError(StatusCode::kDataLoss, "restore a backup"));
}

// SQLite would begin a new store and delete the log.
TEST_F(OpenTest, LogWithoutItsDatabaseIsKept) {
  WriteFile(database() + "-wal", "accepted events");
  EXPECT_THAT(OpenStatus(), IsError(StatusCode::kDataLoss, "-wal"));
  EXPECT_EQ(ReadFile(database() + "-wal"), "accepted events");
}

TEST_F(OpenTest, MissingFolderAboveIsNamed) {
  const std::string deep = folder() + "/a/b";
  EXPECT_THAT(OpenSqliteStore(deep).status(),
              IsError(StatusCode::kNotFound, "cannot make " + deep));
}

TEST_F(OpenTest, FileInPlaceOfTheFolderIsNamed) {
  std::filesystem::create_directories(folder());
  const std::string path = folder() + "/file";
  WriteFile(path, "x");
  EXPECT_THAT(OpenSqliteStore(path).status(),
              IsError(StatusCode::kPermissionDenied, path));
}

TEST_F(OpenTest, FolderThatMayNotBeWrittenIsNamed) {
  std::filesystem::create_directories(folder());
  std::filesystem::permissions(folder(), std::filesystem::perms{0555});
  const Unprivileged account;
  EXPECT_THAT(OpenStatus(),
              IsError(StatusCode::kPermissionDenied,
                      "cannot open " + folder() + "/turnstone.lock"));
}

TEST_F(OpenTest, FileThatMayNotBeReadIsNamed) {
  Open();
  Close();
  std::filesystem::permissions(folder(), std::filesystem::perms{0777});
  std::filesystem::permissions(folder() + "/turnstone.lock",
                               std::filesystem::perms{0666});
  std::filesystem::permissions(database(), std::filesystem::perms{0000});
  const Unprivileged account;
  EXPECT_THAT(OpenStatus(), IsError(StatusCode::kPermissionDenied,
                                    "cannot open " + database()));
}

}  // namespace
}  // namespace turnstone

// Backups and putting them back. Source: the promises of service.proto and
// operations.proto; common practice, no source.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>

#include "service/core/backup_folder.h"
#include "service/core/verify_record.h"
#include "service/store/copy.h"
#include "service/store/restore.h"
#include "tests/core/core_fixture.h"
#include "tests/operations/raw.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

bool Always() { return true; }

class BackupTest : public CoreFixture {
 protected:
  BackupTest() : backups_(folder_ + "_backups"), restored_(folder_ + "_new") {
    std::filesystem::remove_all(backups_);
    std::filesystem::remove_all(restored_);
    std::filesystem::create_directory(backups_);
    steward_.set_name("w.dunlin");
    steward_.set_role("data-steward");
  }
  ~BackupTest() override {
    std::filesystem::remove_all(backups_);
    std::filesystem::remove_all(restored_);
  }

  // An event of another participant, with enough around it to fill pages.
  void Fill(int from, int to) {
    for (int i = from; i < to; ++i) {
      v1::Event event = Phq9Total(absl::StrCat("e", i), clock_.Now(), 12);
      event.set_participant(absl::StrCat("p", i));
      ASSERT_TRUE(core_->StageSubmit(event, by_).ok());
    }
    ASSERT_TRUE(core_->Commit().ok());
  }
  // Path of a finished backup; in between, `meanwhile` is done.
  std::string BackUp(const std::function<void()>& meanwhile) {
    const std::string unfinished = backups_ + "/unfinished.db";
    EXPECT_TRUE(core_->BeginBackUp(unfinished).ok());
    while (true) {
      const auto step = core_->GoOnBackingUp();
      EXPECT_TRUE(step.ok()) << step.status();
      if (!step.ok() || step->copy.whole) {
        made_ = step.ok() ? step->holds : v1::Backup();
        break;
      }
      meanwhile();
    }
    std::string path = backups_ + "/" + made_.file();
    const auto bytes = FinishCopy(unfinished, path, &Always);
    EXPECT_TRUE(bytes.ok()) << bytes.status();
    EXPECT_EQ(static_cast<uint64_t>(bytes.value_or(0)),
              std::filesystem::file_size(path));
    return path;
  }
  // What Core makes of the restored folder.
  void StartOn(const std::string& path) {
    const absl::Status copied = CopyBackupInto(path, restored_);
    ASSERT_TRUE(copied.ok()) << copied;
    core_.reset();
    core_ = std::make_unique<Core>(OpenSqliteStore(restored_).value(), clock_,
                                   options_);
    ASSERT_TRUE(core_->Start(ShippedConfiguration()).ok());
  }

  std::string backups_;
  std::string restored_;
  v1::Actor steward_;
  v1::Backup made_;
};

TEST_F(BackupTest, HoldsWhatWasAcceptedWhileItWasMade) {
  Fill(0, 1500);
  int next = 1500;
  int rounds = 0;
  const std::string path = BackUp([&] {
    // Early on only, or it would have no end.
    if (++rounds <= 3) Fill(next, next + 3);
    if (rounds <= 3) next += 3;
  });
  EXPECT_GE(rounds, 3);
  EXPECT_EQ(made_.events(), next);
  EXPECT_EQ(made_.file(),
            absl::StrCat("turnstone-20270104T100000Z-", next, ".db"));
  StartOn(path);
  // Every event answers as the first time, also the last of them.
  for (const int i : {0, 1499, 1500, next - 1}) {
    v1::Event event =
        Phq9Total(absl::StrCat("e", i), At("2027-01-04T10:00:00Z"), 12);
    event.set_participant(absl::StrCat("p", i));
    const v1::SubmitResponse again = Submit(event);
    EXPECT_TRUE(again.repeated_submission()) << i;
    EXPECT_EQ(again.sequence(), i + 1);
  }
}

TEST_F(BackupTest, IsOneFileForTheServiceAlone) {
  Fill(0, 3);
  const std::string path = BackUp([] {});
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(backups_)) {
    names.push_back(entry.path().filename().string());
  }
  EXPECT_THAT(names, ElementsAre(made_.file()));
  struct stat info {};
  ASSERT_EQ(stat(path.c_str(), &info), 0);
  EXPECT_EQ(info.st_mode & 07777U, 0600U);
}

TEST_F(BackupTest, GoesOnToBeFineAfterTheServiceWentOn) {
  Submit(Phq9Total("e1", clock_.Now(), 12, 2));
  const std::string path = BackUp([] {});
  Submit(Phq9Total("e2", clock_.Now(), 12, 2));
  StartOn(path);
  EXPECT_EQ(Submit(Phq9Total("e1", clock_.Now(), 12, 2)).sequence(), 1);
  EXPECT_FALSE(
      Submit(Phq9Total("e2", clock_.Now(), 12, 2)).repeated_submission());
  core_.reset();
  Verification verification(nullptr);
  EXPECT_TRUE(VerifyFolder(restored_, verification).ok());
  EXPECT_TRUE(verification.ok());
}

TEST_F(BackupTest, ThatIsDamagedIsNotGivenItsName) {
  Fill(0, 300);
  const std::string unfinished = backups_ + "/unfinished.db";
  ASSERT_TRUE(core_->BeginBackUp(unfinished).ok());
  while (!core_->GoOnBackingUp()->copy.whole) {
  }
  {
    std::fstream file(unfinished,
                      std::ios::binary | std::ios::in | std::ios::out);
    file.seekp(std::streamoff{5} * 4096);
    file << std::string(4096, 'x');
  }
  const auto bytes = FinishCopy(unfinished, backups_ + "/made.db", &Always);
  EXPECT_TRUE(absl::IsDataLoss(bytes.status())) << bytes.status();
  EXPECT_FALSE(std::filesystem::exists(backups_ + "/made.db"));
}

TEST_F(BackupTest, ThatIsGivenUpDisturbsNothing) {
  Fill(0, 1500);
  ASSERT_TRUE(core_->BeginBackUp(backups_ + "/a.db").ok());
  ASSERT_TRUE(core_->GoOnBackingUp().ok());
  core_->EndBackUp();
  EXPECT_TRUE(absl::IsFailedPrecondition(core_->GoOnBackingUp().status()));
  // The store closes as ever, and another backup can be made.
  ASSERT_TRUE(core_->BeginBackUp(backups_ + "/b.db").ok());
  Start(ShippedConfiguration());
  Fill(1500, 1501);
  (void)BackUp([] {});
  EXPECT_EQ(made_.events(), 1501);
}

TEST_F(BackupTest, IsForThoseAloneWhoMay) {
  EXPECT_TRUE(core_->CheckMayBackUp({steward_, SiteScope::All()}).ok());
  const absl::Status refused =
      core_->CheckMayBackUp({person_, SiteScope::All()});
  EXPECT_TRUE(absl::IsPermissionDenied(refused));
  EXPECT_THAT(std::string(refused.message()), HasSubstr("data-steward"));
  // One of that name and role, whom this site does not know.
  EXPECT_TRUE(absl::IsPermissionDenied(
      core_->CheckMayBackUp({steward_, SiteScope({"elsewhere"})})));
}

TEST_F(BackupTest, IsMadeOneAtATime) {
  BackupFolder none("");
  EXPECT_THAT(std::string(none.Begin().status().message()),
              HasSubstr("--backups"));
  BackupFolder folder(backups_);
  std::ofstream(backups_ + "/unfinished.db") << "of a service that was killed";
  EXPECT_TRUE(folder.Begin().ok());
  EXPECT_FALSE(std::filesystem::exists(backups_ + "/unfinished.db"));
  EXPECT_TRUE(absl::IsFailedPrecondition(folder.Begin().status()));
  folder.End();
  EXPECT_TRUE(folder.Begin().ok());
}

TEST_F(BackupTest, IsNotPutBackOverAnything) {
  Fill(0, 1);
  const std::string path = BackUp([] {});
  std::filesystem::create_directory(restored_);
  std::ofstream(restored_ + "/precious") << "x";
  EXPECT_TRUE(absl::IsFailedPrecondition(CopyBackupInto(path, restored_)));
  EXPECT_THAT(FilesWith("x", restored_), ElementsAre("precious"));
  std::filesystem::remove(restored_ + "/precious");
  EXPECT_TRUE(CopyBackupInto(path, restored_).ok());
  EXPECT_TRUE(absl::IsNotFound(CopyBackupInto(path + "x", folder_ + "_x")));
  // A live file without its log is not whole.
  const absl::Status live =
      CopyBackupInto(folder_ + "/turnstone.db", folder_ + "_x");
  EXPECT_TRUE(absl::IsFailedPrecondition(live)) << live;
  EXPECT_THAT(std::string(live.message()), HasSubstr("is no backup"));
}

}  // namespace
}  // namespace turnstone

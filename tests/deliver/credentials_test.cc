// Secret files: what is read, and what is refused. Common practice, no source.
#include "service/deliver/credentials.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>

namespace turnstone {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

class CredentialsTest : public ::testing::Test {
 protected:
  CredentialsTest() {
    std::string pattern = ::testing::TempDir() + "credentials-XXXXXX";
    folder_ = mkdtemp(pattern.data());
  }
  ~CredentialsTest() override { std::filesystem::remove_all(folder_); }

  void Put(const std::string& name, const std::string& content, mode_t mode) {
    std::ofstream(folder_ + "/" + name, std::ios::binary) << content;
    ASSERT_EQ(chmod((folder_ + "/" + name).c_str(), mode), 0);
  }
  // Why reading fails.
  std::string Refusal(const std::string& name) {
    const auto read = Credentials(folder_).Read(name);
    EXPECT_TRUE(absl::IsFailedPrecondition(read.status())) << read.status();
    return std::string(read.status().message());
  }

  std::string folder_;
};

TEST_F(CredentialsTest, ReadsWithoutTheNewlineAtTheEnd) {
  Put("unix", "a secret\n", 0600);
  Put("windows", "a secret\r\n", 0400);
  Put("none", "a secret", 0640);
  Put("spaces", " a secret \n\n", 0600);
  const Credentials credentials(folder_);
  EXPECT_EQ(*credentials.Read("unix"), "a secret");
  EXPECT_EQ(*credentials.Read("windows"), "a secret");
  EXPECT_EQ(*credentials.Read("none"), "a secret");
  EXPECT_EQ(*credentials.Read("spaces"), " a secret \n");
}

TEST_F(CredentialsTest, ReadsAnewEachTime) {
  const Credentials credentials(folder_);
  Put("mail", "old", 0600);
  EXPECT_EQ(*credentials.Read("mail"), "old");
  Put("mail", "new", 0600);
  EXPECT_EQ(*credentials.Read("mail"), "new");
}

TEST_F(CredentialsTest, RefusesWhatEverybodyMayOpen) {
  for (const mode_t mode : {0604U, 0602U, 0601U}) {
    Put("mail", "hunter-of-pebbles", mode);
    EXPECT_THAT(Refusal("mail"),
                AllOf(HasSubstr("chmod 600 " + folder_ + "/mail"),
                      Not(HasSubstr("hunter-of-pebbles"))));
  }
}

TEST_F(CredentialsTest, StaysInItsFolder) {
  Put("mail", "a secret", 0600);
  std::filesystem::create_directory(folder_ + "/sub");
  for (const std::string name :
       {"", ".", "..", "../mail", "/etc/hostname", "sub/../mail"}) {
    EXPECT_THAT(Refusal(name), HasSubstr("without \"/\"")) << name;
  }
}

TEST_F(CredentialsTest, SaysWhichFileIsMissing) {
  EXPECT_THAT(Refusal("mail"), HasSubstr("no file " + folder_ + "/mail"));
  std::filesystem::create_directory(folder_ + "/mail");
  EXPECT_THAT(Refusal("mail"), HasSubstr("no file " + folder_ + "/mail"));
}

TEST(NoCredentialsTest, SaysHowToNameTheFolder) {
  const auto read = Credentials("").Read("mail-password");
  EXPECT_TRUE(absl::IsFailedPrecondition(read.status()));
  EXPECT_THAT(std::string(read.status().message()),
              AllOf(HasSubstr("mail-password"), HasSubstr("--credentials")));
}

}  // namespace
}  // namespace turnstone

// The table of who may call what, where it is wrong. That it says the right
// thing of every method, tests/system/access_test.py asks of the real server.
#include "service/rpc/access.h"

#include <gmock/gmock.h>
#include <google/protobuf/descriptor.h>
#include <google/protobuf/descriptor.pb.h>
#include <gtest/gtest.h>

#include "tests/core/core_fixture.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {
namespace {

using google::protobuf::DescriptorPool;
using google::protobuf::FileDescriptorProto;
using testing::HasSubstr;

// A service with methods that take a ListAlertsRequest.
class AccessTableTest : public testing::Test {
 protected:
  AccessTableTest() : pool_(DescriptorPool::generated_pool()) {
    file_.set_name("a.proto");
    file_.set_package("a");
    file_.set_syntax("proto3");
    file_.add_dependency("turnstone/v1/service.proto");
    file_.add_dependency("turnstone/v1/alert.proto");
    file_.add_service()->set_name("S");
  }
  // Null: without an entry.
  void Add(const std::string& name, const v1::Access* access) {
    auto& method = *file_.mutable_service(0)->add_method();
    method.set_name(name);
    method.set_input_type(".turnstone.v1.ListAlertsRequest");
    method.set_output_type(".turnstone.v1.Alert");
    if (access == nullptr) return;
    *method.mutable_options()->MutableExtension(v1::access) = *access;
  }
  std::string WhatIsWrong() {
    const auto* const file = pool_.BuildFile(file_);
    if (file == nullptr) return "the test's own file is wrong";
    return std::string(CheckAccessTable(*file).message());
  }
  static v1::Access ForClinicians(const std::string& site) {
    v1::Access access;
    access.add_kind(v1::CLINICIAN);
    access.set_site(site);
    return access;
  }

  DescriptorPool pool_;
  FileDescriptorProto file_;
};

TEST_F(AccessTableTest, OfTheContractIsWhole) {
  EXPECT_EQ(CheckAccessTable(*v1::SubmitRequest::descriptor()->file()),
            absl::OkStatus());
}

TEST_F(AccessTableTest, SoundEntriesPass) {
  const v1::Access access = ForClinicians("site");
  Add("One", &access);
  Add("Two", &access);
  EXPECT_EQ(WhatIsWrong(), "");
}

TEST_F(AccessTableTest, AMethodWithoutEntryIsNamed) {
  const v1::Access access = ForClinicians("site");
  Add("One", &access);
  Add("Two", nullptr);
  EXPECT_EQ(WhatIsWrong(), "a.S.Two: its access names no kind of caller");
}

TEST_F(AccessTableTest, AFieldThatIsNotThereIsNamed) {
  const v1::Access access = ForClinicians("event.site");
  Add("One", &access);
  EXPECT_THAT(WhatIsWrong(), HasSubstr("a.S.One: its access names "
                                       "\"event.site\""));
}

// The gate goes by the request.
TEST_F(AccessTableTest, TwoEntriesForOneRequestAreRefused) {
  const v1::Access with = ForClinicians("site");
  const v1::Access without = ForClinicians("");
  Add("One", &with);
  Add("Two", &without);
  EXPECT_THAT(WhatIsWrong(), HasSubstr("a.S.Two: its access says otherwise"));
}

class GateTest : public CoreFixture {};

TEST_F(GateTest, WhatIsNoRequestOfAMethodIsNobodys) {
  const Presented lead{"", "t.linnet", "on-call-lead"};
  EXPECT_TRUE(PassGate(*core_, lead, v1::ListAlertsRequest()).ok());
  EXPECT_TRUE(absl::IsPermissionDenied(
      PassGate(*core_, lead, v1::SubmitResponse()).status()));
}

}  // namespace
}  // namespace turnstone

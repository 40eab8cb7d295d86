// A core on a real store in a folder of its own, with a simulated clock.
#pragma once

#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "service/core/core.h"
#include "service/store/sqlite_store.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {

class CoreFixture : public testing::Test {
 protected:
  CoreFixture() : clock_(At("2027-01-04T10:00:00Z")) {
    folder_ = testing::TempDir() + "core_" +
              testing::UnitTest::GetInstance()->current_test_info()->name();
    std::filesystem::remove_all(folder_);
    by_.set_name("intake");
    by_.set_role("intake-system");
    person_.set_name("r.sorrel");
    person_.set_role("clinician");
    Start(WithoutSignOfLife());
  }
  ~CoreFixture() override {
    core_.reset();
    std::filesystem::remove_all(folder_);
  }

  // As after a crash: nothing is carried over but the folder.
  void Start(const std::optional<v1::Configuration>& configuration) {
    core_.reset();
    core_ = std::make_unique<Core>(OpenSqliteStore(folder_).value(), clock_,
                                   options_);
    const auto report = core_->Start(configuration);
    ASSERT_TRUE(report.ok()) << report.status();
  }
  // Accepts and commits.
  v1::SubmitResponse Submit(const v1::Event& event) {
    const auto response = core_->StageSubmit(event, by_);
    EXPECT_TRUE(response.ok()) << response.status();
    EXPECT_TRUE(core_->Commit().ok());
    return response.value_or(v1::SubmitResponse());
  }
  // Time passes; what falls due is asked when it does.
  void MoveTo(absl::Time time) {
    while (core_->NextDue().value() <= time) {
      clock_.MoveTo(core_->NextDue().value());
      AskDue();
    }
    clock_.MoveTo(time);
  }
  Core::DueReport AskDue() {
    const auto report = core_->AskAllDue();
    EXPECT_TRUE(report.ok()) << report.status();
    return report.value_or(Core::DueReport());
  }
  // Does and commits what `action` says in protobuf text format:
  // "receive { note: 'calling' }".
  absl::StatusOr<v1::Alert> Work(const std::string& action, const v1::Actor& by,
                                 const std::string& alert_id = "A-1") {
    v1::WorkAlertRequest request;
    EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(action, &request))
        << action;
    request.set_alert_id(alert_id);
    absl::StatusOr<v1::Alert> alert = core_->StageWork(request, by);
    EXPECT_TRUE(core_->Commit().ok());
    return alert;
  }
  v1::Alert Alert(const std::string& id) {
    return core_->GetAlert(id, SiteScope::All()).value_or(v1::Alert());
  }
  // "rule status" of every alert, by number.
  std::vector<std::string> Alerts() {
    std::vector<std::string> lines;
    for (const v1::Alert& alert :
         core_->AlertsAfter("", 0, 1000, SiteScope::All())
             .value_or(std::vector<v1::Alert>())) {
      std::string line = alert.alert_id() + " " + alert.rule().rule();
      if (!IsOpen(alert)) line += " ended";
      if (alert.has_withdrawal()) line += " withdrawn";
      lines.push_back(line);
    }
    std::sort(lines.begin(), lines.end());
    return lines;
  }

  SimulatedClock clock_;
  std::string folder_;
  CoreOptions options_;
  v1::Actor by_;
  v1::Actor person_;
  std::unique_ptr<Core> core_;
};

}  // namespace turnstone

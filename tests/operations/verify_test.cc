// Looking over a store. Every kind of damage is done behind its back, and must
// be found under the name of what was promised (service.proto, alert.proto).
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>

#include <functional>

#include "rules/measure/proto_time.h"
#include "service/core/verify_record.h"
#include "tests/core/core_fixture.h"
#include "tests/operations/raw.h"
#include "tests/support/rule_changes.h"

namespace turnstone {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

class VerifyTest : public CoreFixture {
 protected:
  // As after downtime: one commit for all that fell due.
  void Pass(absl::Duration time) {
    clock_.MoveTo(clock_.Now() + time);
    AskDue();
  }
  // A course: alerts open, ended and withdrawn, a timer, messages.
  void Live() {
    Submit(Enrolled("en", clock_.Now()));
    v1::Event planned =
        Planned("vp", clock_.Now(), "visit-1", clock_.Now() + absl::Hours(26));
    Submit(planned);
    const v1::Event form = Phq9Total("q1", clock_.Now(), 12, 2);
    Submit(form);
    v1::Event other = Phq9Total("q2", clock_.Now(), 22);
    other.set_participant("p2");
    Submit(other);
    Submit(Withdrawn("c1", clock_.Now(), form));
    Pass(absl::Hours(30));
    Submit(Phq9Total("q3", clock_.Now(), 13, 1));
    v1::Event confidence = Confidence("pr", clock_.Now(), 40);
    Submit(confidence);
    Pass(absl::Hours(100));
    ASSERT_GE(Alerts().size(), 4U);
  }
  // "BrokeSilent at A-1: ..." for everything that is found.
  std::vector<std::string> Found() {
    core_.reset();
    Verification verification(nullptr);
    const absl::Status status = VerifyFolder(folder_, verification);
    std::vector<std::string> found;
    if (!status.ok()) found.push_back(std::string(status.message()));
    for (const Looked& looked : verification.looked()) {
      for (const Fault& fault : looked.faults) {
        found.push_back(absl::StrCat(fault.guarantee, " at ", fault.place, ": ",
                                     fault.what));
      }
    }
    EXPECT_EQ(found.empty(), verification.ok());
    return found;
  }
  std::vector<std::string> FoundAfter(const std::string& sql) {
    core_.reset();
    Meddle(folder_, sql);
    return Found();
  }
  template <typename Message>
  std::vector<std::string> FoundAfter(
      const std::string& table, const std::string& where,
      const std::function<void(Message&)>& change) {
    core_.reset();
    MeddleWith<Message>(folder_, table, where, change);
    return Found();
  }
};

TEST_F(VerifyTest, FindsNothingWhereNothingIsWrong) {
  EXPECT_THAT(Found(), IsEmpty());
  Start(ShippedConfiguration());
  Live();
  EXPECT_THAT(Found(), IsEmpty());
  // Looking changes nothing.
  EXPECT_THAT(Found(), IsEmpty());
}

TEST_F(VerifyTest, FindsNothingWrongWithAnotherConfigurationInForce) {
  Live();
  // By which the forms on record would have raised what they did not.
  ASSERT_TRUE(core_->Activate(WithOverride("above-range", 13)).ok());
  EXPECT_THAT(Found(), IsEmpty());
  Start(std::nullopt);
  Pass(absl::Hours(1));
  Submit(Phq9Total("q9", clock_.Now(), 19, 1));
  Pass(absl::Hours(400));
  EXPECT_THAT(Found(), IsEmpty());
}

TEST_F(VerifyTest, SaysWhereThereIsNoStoreOrAServiceHasIt) {
  Verification verification(nullptr);
  EXPECT_TRUE(absl::IsFailedPrecondition(VerifyFolder(folder_, verification)));
  EXPECT_TRUE(absl::IsNotFound(VerifyFolder(folder_ + "x", verification)));
  EXPECT_FALSE(std::filesystem::exists(folder_ + "x"));
}

TEST_F(VerifyTest, FindsALostEvent) {
  Live();
  EXPECT_THAT(FoundAfter("DELETE FROM event WHERE sequence = 4"),
              Contains(StartsWith("BrokeDurable at event 4")));
}

TEST_F(VerifyTest, FindsAnUnreadableEvent) {
  Live();
  EXPECT_THAT(
      FoundAfter("UPDATE event SET content = x'ffff' WHERE sequence = 2"),
      Contains(StartsWith("BrokeDurable at event 2")));
}

TEST_F(VerifyTest, FindsAnAlertThatWasLost) {
  Live();
  EXPECT_THAT(FoundAfter("DELETE FROM alert WHERE number = 1"),
              AllOf(Contains(AllOf(StartsWith("BrokeRaises at event 3"),
                                   HasSubstr("A-1")))));
}

TEST_F(VerifyTest, FindsAReasonThatNoAlertHolds) {
  Live();
  EXPECT_THAT(
      FoundAfter<v1::Alert>("alert", "number = 2",
                            [](v1::Alert& alert) {
                              alert.mutable_occurrence(0)->set_event_id(
                                  "another");
                            }),
      Contains(AllOf(StartsWith("BrokeRaises at participant of event 4"),
                     HasSubstr("score-above-range"))));
}

TEST_F(VerifyTest, FindsAnOpenAlertOfWhichNobodyIsTold) {
  Live();
  EXPECT_THAT(
      FoundAfter<v1::Alert>("alert", "number = 2",
                            [](v1::Alert& alert) {
                              alert.mutable_escalation()->clear_next_at();
                            }),
      Contains(StartsWith("BrokeSilent at A-2")));
}

TEST_F(VerifyTest, FindsAnAlertThatCannotBeExplained) {
  Live();
  const std::vector<std::function<void(v1::Alert&)>> changes = {
      [](v1::Alert& alert) { alert.mutable_rule()->clear_rule_version(); },
      [](v1::Alert& alert) { alert.mutable_rule()->clear_rule(); },
      [](v1::Alert& alert) { alert.mutable_rule()->set_configuration("0000"); },
      [](v1::Alert& alert) { alert.clear_occurrence(); },
      [](v1::Alert& alert) { alert.mutable_occurrence(0)->clear_trace(); },
  };
  const std::string keep = folder_ + "_keep";
  core_.reset();
  std::filesystem::remove_all(keep);
  std::filesystem::copy(folder_, keep);
  for (const auto& change : changes) {
    EXPECT_THAT(FoundAfter<v1::Alert>("alert", "number = 2", change),
                Contains(StartsWith("BrokeExplained at A-2")));
    std::filesystem::remove_all(folder_);
    std::filesystem::copy(keep, folder_);
  }
  std::filesystem::remove_all(keep);
}

TEST_F(VerifyTest, FindsATimerThatWouldComeTooLate) {
  Live();
  EXPECT_THAT(
      FoundAfter("UPDATE participant SET next_due = next_due + 60000000 "
                 "WHERE participant = 'p1'"),
      Contains(StartsWith("BrokeOnTime at participant of event 1")));
}

TEST_F(VerifyTest, FindsAParticipantForWhomNothingWouldEverBeDue) {
  Live();
  EXPECT_THAT(FoundAfter("DELETE FROM participant WHERE participant = 'p2'"),
              Contains(StartsWith("BrokeSilent at participant of event 4")));
}

TEST_F(VerifyTest, FindsAMessageWithoutItsAlert) {
  Live();
  EXPECT_THAT(FoundAfter("UPDATE outbox SET alert = 999 WHERE key = "
                         "(SELECT min(key) FROM outbox)"),
              Contains(StartsWith("BrokeOnTime at A-1/")));
}

TEST_F(VerifyTest, FindsAGapInTheAudit) {
  Live();
  EXPECT_THAT(FoundAfter("DELETE FROM audit WHERE sequence = 5"),
              Contains(StartsWith("BrokeAudit at audit 5")));
}

TEST_F(VerifyTest, FindsAConfigurationThatWasChanged) {
  Live();
  EXPECT_THAT(FoundAfter<v1::Configuration>(
                  "configuration", "1",
                  [](v1::Configuration& configuration) {
                    configuration.mutable_site(0)->set_name("x");
                  }),
              Contains(StartsWith("BrokeExplained at configuration ")));
}

TEST_F(VerifyTest, FindsAReferenceToNothing) {
  Live();
  EXPECT_THAT(FoundAfter("UPDATE state SET configuration = 'gone'"),
              Contains(StartsWith("BrokeDurable at table state")));
}

TEST_F(VerifyTest, FindsADamagedPage) {
  Live();
  core_.reset();
  {
    std::fstream file(folder_ + "/turnstone.db",
                      std::ios::binary | std::ios::in | std::ios::out);
    file.seekp(std::streamoff{8} * 4096);
    file << std::string(4096, 'x');
  }
  EXPECT_THAT(Found(), Contains(HasSubstr("damaged")));
}

}  // namespace
}  // namespace turnstone

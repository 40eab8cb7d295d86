// The audit on disk: a chain whose records can be emptied. Expected: the values
// put in (contract: service/store/store.h), and faults where they were planted.
#include <absl/strings/str_cat.h>

#include <filesystem>

#include "service/store/sqlite_db.h"
#include "service/store/verify.h"
#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

class AuditTest : public StoreTest {
 protected:
  // Records 1 to 9; those divisible by three are about p-1.
  void Fill() {
    Open();
    for (int number = 1; number <= 9; ++number) {
      WriteBatch batch;
      batch.audit = {MakeAudit(absl::StrCat("e-", number))};
      if (number % 3 == 0) batch.audit[0].about = whom_;
      ASSERT_TRUE(store().Commit(batch).ok());
    }
  }
  void Erase() {
    WriteBatch batch;
    batch.erased = {{whom_, "erased/1"}};
    AuditRecord record = MakeAudit("harbour-row");
    record.action = "participant erased";
    record.erases = whom_;
    // One that waited to be written goes, too.
    batch.audit = {MakeAudit("late"), record, MakeAudit("after")};
    batch.audit[0].about = whom_;
    ASSERT_TRUE(store().Commit(batch).ok());
  }
  // Numbers of the records that are not as they were written.
  std::vector<std::string> Faults(AuditVerifier verifier = {}) {
    Close();
    Verification verification(nullptr);
    const auto db = Get(Database::Open(database()));
    EXPECT_TRUE(VerifyAudit(*db, std::move(verifier), verification).ok());
    std::vector<std::string> places;
    for (const Fault& fault : verification.looked()[0].faults) {
      EXPECT_EQ(fault.guarantee, "BrokeAudit");
      places.push_back(fault.place);
    }
    return places;
  }
  void Meddle(const std::string& sql) {
    Close();
    const auto db = Get(Database::Open(database()));
    ASSERT_TRUE(db->Script(sql).ok());
  }

  const ParticipantKey whom_{"harbour-row", "p-1"};
};

TEST_F(AuditTest, VerifiesAsItWasWritten) {
  Fill();
  EXPECT_THAT(Faults(), IsEmpty());
  Open();
  const std::vector<AuditRecord> of = Get(store().AuditOf(whom_));
  ASSERT_THAT(of, SizeIs(3));
  EXPECT_EQ(of[0].subject, "e-3");
  EXPECT_EQ(of[0].about, whom_);
  EXPECT_EQ(of[0].at, Noon());
  EXPECT_EQ(of[0].by.name(), "Example Lead");
  EXPECT_THAT(Get(store().AuditOf({"harbour-row", "p-2"})), IsEmpty());
  EXPECT_THAT(Get(store().AuditOf({"", ""})), IsEmpty());
  EXPECT_EQ(Get(store().GetAuditTip()).sequence, 9);
}

TEST_F(AuditTest, EveryKindOfMeddlingIsFoundWhereItBegan) {
  const std::vector<std::pair<std::string, std::string>> kinds = {
      {"DELETE FROM audit WHERE sequence = 4", "audit 4"},
      {"DELETE FROM audit WHERE sequence = 4; UPDATE audit SET sequence = "
       "sequence - 1 WHERE sequence > 4",
       "audit 4"},
      {"UPDATE audit SET at = at + 1 WHERE sequence = 4", "audit 4"},
      {"UPDATE audit SET actor = x'' WHERE sequence = 4", "audit 4"},
      {"UPDATE audit SET action = 'x' WHERE sequence = 4", "audit 4"},
      {"UPDATE audit SET subject = 'x' WHERE sequence = 4", "audit 4"},
      {"UPDATE audit SET detail = 'x' WHERE sequence = 4", "audit 4"},
      {"UPDATE audit SET participant = 'p-2' WHERE sequence = 6", "audit 6"},
      {"UPDATE audit SET salt = x'00' WHERE sequence = 6", "audit 6"},
      {"UPDATE audit SET participant = '', detail = '', salt = x'', sealed = "
       "zeroblob(32) WHERE sequence = 6",
       "audit 6"},
      {"UPDATE audit SET sequence = 100 WHERE sequence = 4; UPDATE audit SET "
       "sequence = 4 WHERE sequence = 5; UPDATE audit SET sequence = 5 WHERE "
       "sequence = 100",
       "audit 4"},
  };
  for (const auto& [sql, place] : kinds) {
    Fill();
    Meddle(sql);
    const std::vector<std::string> faults = Faults();
    ASSERT_FALSE(faults.empty()) << sql;
    EXPECT_EQ(faults.front(), place) << sql;
    std::filesystem::remove_all(folder());
  }
}

TEST_F(AuditTest, AnEndCutOffIsFoundByWhatWasKnownElsewhere) {
  Fill();
  const AuditTip tip = Get(store().GetAuditTip());
  Meddle("DELETE FROM audit WHERE sequence > 7");
  EXPECT_THAT(Faults(), IsEmpty());
  AuditVerifier verifier;
  verifier.Expect(tip.sequence, tip.chain);
  EXPECT_THAT(Faults(verifier), ElementsAre("audit 8"));
  // Nor does it help to go on from there.
  Open();
  WriteBatch batch;
  batch.audit = {MakeAudit("new"), MakeAudit("new"), MakeAudit("new")};
  ASSERT_TRUE(store().Commit(batch).ok());
  EXPECT_THAT(Faults(verifier), ElementsAre("audit 9"));
}

TEST_F(AuditTest, AnErasureEmptiesWhatIsSaidAndKeepsTheChain) {
  Fill();
  Erase();
  EXPECT_THAT(Get(store().AuditOf(whom_)), IsEmpty());
  EXPECT_THAT(Faults(), IsEmpty());
  EXPECT_THAT(Raw("SELECT sequence FROM audit WHERE sealed IS NOT NULL"),
              ElementsAre("3", "6", "9", "10"));
  EXPECT_THAT(Raw("SELECT count(*) FROM audit WHERE participant <> '' OR "
                  "(sealed IS NOT NULL AND (detail <> '' OR salt <> x''))"),
              ElementsAre("0"));
  EXPECT_THAT(Raw("SELECT emptied FROM audit WHERE emptied <> ''"),
              ElementsAre("3,6,9-10"));
  // Nobody can pass a record off as emptied then.
  Meddle("UPDATE audit SET emptied = '3,6,9' WHERE emptied <> ''");
  EXPECT_THAT(Faults(), ElementsAre("audit 11", "audit 10"));
}

// A digest that anybody could compute from a guess would tell who it was.
TEST_F(AuditTest, EqualRecordsHaveUnequalSeals) {
  Fill();
  WriteBatch batch;
  batch.audit = {MakeAudit("e"), MakeAudit("e")};
  for (AuditRecord& record : batch.audit) record.about = whom_;
  ASSERT_TRUE(store().Commit(batch).ok());
  Erase();
  Close();
  const auto seals =
      Raw("SELECT DISTINCT hex(sealed) FROM audit WHERE sealed IS NOT NULL");
  EXPECT_THAT(seals, SizeIs(6));
}

}  // namespace
}  // namespace turnstone

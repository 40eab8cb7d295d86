// The chain over the audit. Digests: computed with Python's hashlib from the
// description in audit_chain.h. That a chain of digests shows every change:
// Haber and Stornetta, "How to time-stamp a digital document", 1991.
#include <absl/strings/escaping.h>
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <utility>
#include <vector>

#include "service/store/audit_numbers.h"
#include "service/store/audit_verifier.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr int64_t kMany = 10000;

struct Link {
  AuditRow row;
  std::string chain;
};
using Chain = std::vector<Link>;

// Everything from `first` on, as who has the database can do it.
void ChainAgain(size_t first, Chain& chain) {
  for (size_t i = first; i < chain.size(); ++i) {
    chain[i].chain =
        ChainAfter(i == 0 ? ChainBegin() : chain[i - 1].chain, chain[i].row);
  }
}

Chain MakeChain(int64_t records) {
  Chain chain;
  for (int64_t number = 1; number <= records; ++number) {
    AuditRow row;
    row.sequence = number;
    row.at = 1799056800000000 + number;
    row.actor = absl::StrCat("actor ", number % 7);
    row.action = number % 3 == 0 ? "alert closed" : "event accepted";
    row.subject = absl::StrCat("A-", number);
    row.site = "harbour-row";
    row.detail = "invented";
    if (number % 2 == 0) {
      row.participant = absl::StrCat("p-", number % 11);
      row.salt = absl::StrCat("salt ", number);
    }
    chain.push_back({row, ""});
  }
  ChainAgain(0, chain);
  return chain;
}

// Where the first fault is found, looking on from `verifier` at `links`; 0 if
// nowhere.
int64_t FirstFault(AuditVerifier verifier, const std::vector<Link>& links) {
  for (const Link& link : links) {
    if (const auto fault = verifier.Look(link.row, link.chain)) {
      return fault->sequence;
    }
  }
  const std::vector<AuditFault> faults = verifier.End();
  return faults.empty() ? 0 : faults.front().sequence;
}

std::vector<std::pair<std::string, std::function<void(Link&)>>> Changes() {
  return {
      {"time", [](Link& link) { ++link.row.at; }},
      {"actor", [](Link& link) { link.row.actor.back() ^= 1; }},
      {"action", [](Link& link) { link.row.action = "alert raised"; }},
      {"subject", [](Link& link) { link.row.subject += "0"; }},
      {"site", [](Link& link) { link.row.site.clear(); }},
      {"participant", [](Link& link) { link.row.participant = "p-x"; }},
      {"detail", [](Link& link) { link.row.detail.clear(); }},
      {"salt", [](Link& link) { link.row.salt += "x"; }},
      {"emptied", [](Link& link) { link.row.emptied = "1"; }},
      {"digest", [](Link& link) { link.chain.front() ^= 1; }},
      // The same text, told apart from one field to the next.
      {"border",
       [](Link& link) {
         link.row.subject.insert(0, 1, link.row.action.back());
         link.row.action.pop_back();
       }},
  };
}

TEST(AuditChainTest, IsTheOneThatPythonComputes) {
  AuditRow raised;
  raised.sequence = 1;
  raised.at = 1799056800000000;
  raised.actor =
      "\x0a\x03"
      "abc";
  raised.action = "alert raised";
  raised.subject = "A-1";
  raised.detail = "in-range";
  AuditRow seen;
  seen.sequence = 2;
  seen.at = -1;
  seen.actor = raised.actor;
  seen.action = "looked at a participant";
  seen.site = "harbour-row";
  seen.participant = "p-1";
  seen.detail = "2 times";
  for (char byte = 0; byte < 16; ++byte) seen.salt.push_back(byte);
  AuditRow erased;
  erased.sequence = 3;
  erased.at = 1799056800000001;
  erased.action = "participant erased";
  erased.subject = "harbour-row";
  erased.emptied = "2";
  erased.detail = "asked to be";

  const std::string first = ChainAfter(ChainBegin(), raised);
  EXPECT_EQ(absl::BytesToHexString(first),
            "e1412d8ab86c2c788849481753b3d99549f3529b5f9b55e0b57cf6d60e79ba0f");
  const std::string second = ChainAfter(first, seen);
  EXPECT_EQ(absl::BytesToHexString(second),
            "f4548fb74fd7a3f966e098eddb18e14e2bc5cf31093cd6d18395f9817c879562");
  EXPECT_EQ(absl::BytesToHexString(SealOf(seen)),
            "cb6296432be53ae3c974b73606c79b9834e032d1d47c530f93b49d9ac1617034");
  EXPECT_EQ(absl::BytesToHexString(ChainAfter(second, erased)),
            "e289bbbeeb6500f674bc05adeacb3fecc6e5939149823f6ff140d5f31f224c6d");
  // Emptied, it is the same link.
  seen.sealed = SealOf(seen);
  seen.participant = seen.detail = seen.salt = "";
  EXPECT_EQ(ChainAfter(first, seen), second);
}

TEST(AuditChainTest, EveryChangeOfOneRecordAmongTenThousandIsFound) {
  const Chain chain = MakeChain(kMany);
  const auto changes = Changes();
  AuditVerifier before;
  before.Expect(kMany, chain.back().chain);
  for (size_t i = 0; i < chain.size(); ++i) {
    const auto here = static_cast<int64_t>(i) + 1;
    const Link& link = chain[i];
    for (const auto& [what, change] : changes) {
      Link changed = link;
      change(changed);
      ASSERT_EQ(FirstFault(before, {changed}), here) << what;
    }
    // Cut off here.
    ASSERT_EQ(FirstFault(before, {}), here);
    if (i + 1 < chain.size()) {
      Link next = chain[i + 1];
      // Taken out; then those behind it numbered anew.
      ASSERT_EQ(FirstFault(before, {next}), here);
      next.row.sequence = here;
      ASSERT_EQ(FirstFault(before, {next}), here);
      // Changed places with the next, with the numbers and without.
      ASSERT_EQ(FirstFault(before, {chain[i + 1], link}), here);
      Link second = link;
      second.row.sequence = here + 1;
      ASSERT_EQ(FirstFault(before, {next, second}), here);
      // Put in once more.
      ASSERT_EQ(FirstFault(before, {link, second}), here + 1);
    }
    ASSERT_EQ(before.Look(link.row, link.chain), std::nullopt) << here;
  }
  EXPECT_THAT(before.End(), IsEmpty());
}

// Who has the database can compute every digest anew: then a checkpoint tells.
TEST(AuditChainTest, AChainMadeAnewIsFoundByTheCheckpointsOverIt) {
  const Chain chain = MakeChain(300);
  for (size_t changed = 0; changed < chain.size(); changed += 23) {
    Chain anew = chain;
    anew[changed].row.subject = "another";
    ChainAgain(changed, anew);
    ASSERT_EQ(FirstFault({}, anew), 0);
    AuditVerifier verifier;
    for (const size_t at : {size_t{99}, size_t{199}, size_t{299}}) {
      verifier.Expect(static_cast<int64_t>(at) + 1, chain[at].chain);
    }
    const auto next = static_cast<int64_t>((changed / 100 + 1) * 100);
    EXPECT_EQ(FirstFault(verifier, anew), next);
    // Also where it is cut off before the next checkpoint.
    anew.resize(static_cast<size_t>(next) - 1);
    EXPECT_EQ(FirstFault(verifier, anew), next);
  }
}

void Empty(AuditRow& row) {
  row.sealed = SealOf(row);
  row.participant = row.detail = row.salt = "";
}

TEST(AuditChainTest, OnlyAnErasureMayEmptyARecord) {
  Chain chain = MakeChain(6);
  Empty(chain[1].row);
  EXPECT_EQ(FirstFault({}, chain), 2) << "no erasure says so";
  chain[4].row.emptied = "2";
  ChainAgain(4, chain);
  EXPECT_EQ(FirstFault({}, chain), 0);
  // Another one, too.
  Chain more = chain;
  Empty(more[3].row);
  EXPECT_EQ(FirstFault({}, more), 4);
  // It says something again.
  Chain back = chain;
  back[1].row = MakeChain(2)[1].row;
  EXPECT_EQ(FirstFault({}, back), 2);
  back = chain;
  back[1].row.detail = "something";
  EXPECT_EQ(FirstFault({}, back), 2);
}

TEST(AuditChainTest, GoesOnLookingBehindAFault) {
  Chain chain = MakeChain(9);
  chain[2].row.subject = "x";
  chain[6].row.subject = "x";
  AuditVerifier verifier;
  std::vector<int64_t> found;
  for (const Link& link : chain) {
    if (const auto fault = verifier.Look(link.row, link.chain)) {
      found.push_back(fault->sequence);
      EXPECT_THAT(fault->what, HasSubstr("not what was written"));
    }
  }
  EXPECT_THAT(found, ElementsAre(3, 7));
}

TEST(AuditNumbersTest, AreWrittenAsRunsAndReadBack) {
  const std::set<int64_t> numbers{3, 7, 8, 9, 12, 13};
  EXPECT_EQ(NumbersToText(numbers), "3,7-9,12-13");
  EXPECT_EQ(NumbersFromText("3,7-9,12-13", 13, 6), numbers);
  EXPECT_EQ(NumbersFromText("", 1, 0), std::set<int64_t>());
  for (const char* wrong : {"0", "14", "3-", "-3", "9-7", "3,3", "4,3", "3,4",
                            "1-9000000000000000000", "x", "3,,5", " 3"}) {
    EXPECT_EQ(NumbersFromText(wrong, 13, 13), std::nullopt) << wrong;
  }
}

TEST(AuditNumbersTest, AreNoMoreThanThereCanBe) {
  constexpr int64_t kLast = int64_t{1} << 62;
  EXPECT_EQ(NumbersFromText("3,7-9,12-13", kLast, 5), std::nullopt);
  EXPECT_EQ(NumbersFromText("1-4611686018427387904", kLast, 13), std::nullopt);
}

}  // namespace
}  // namespace turnstone

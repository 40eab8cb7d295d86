// Every defect is found by whom it must be, and none is seen in what we ship.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "rules/check/load.h"
#include "rules/prove/prove.h"
#include "tests/defects/planted.h"
#include "tests/support/events.h"

namespace turnstone {
namespace {

using ::testing::Contains;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::UnorderedElementsAre;

std::set<std::string> IdsOf(const LoadResult& result) {
  std::set<std::string> ids;
  for (const Finding& finding : result.findings) ids.insert(finding.id);
  return ids;
}

std::set<std::string> FindIn(const ShippedFiles& files, bool review) {
  return IdsOf(LoadConfiguration(files, {.complete = true, .review = review}));
}

// Long enough for every defect above; the shipped lengths only add cases.
void Shorten(v1::Property& property) {
  if (property.has_every_visit_history()) {
    property.mutable_every_visit_history()->set_visits_at_most(3);
  } else if (property.has_every_score_path()) {
    property.mutable_every_score_path()->set_forms_at_most(3);
  }
}

// Ids by result. `only`: the property or division to be proved; empty: all.
std::map<ProofResult, std::set<std::string>> Proofs(const ShippedFiles& files,
                                                    const std::string& only) {
  LoadResult result = LoadConfiguration(files, {.complete = true});
  EXPECT_THAT(IdsOf(result), IsEmpty()) << result.findings[0].ToString();
  if (!result.configuration) return {};
  v1::Configuration& all = *result.configuration;
  bool found = only.empty();
  v1::PropertySet set;
  set.set_id("planted");
  for (const v1::PropertySet& shipped : all.property_set()) {
    for (const v1::Property& property : shipped.property()) {
      if (!only.empty() && property.id() != only) continue;
      found = true;
      Shorten(*set.add_property() = property);
    }
  }
  v1::RuleSet& rules = *all.mutable_rule_set(0);
  for (int i = rules.division_size(); i-- > 0;) {
    const bool wanted = only.empty() || rules.division(i).id() == only;
    found = found || wanted;
    if (!wanted) rules.mutable_division()->DeleteSubrange(i, 1);
  }
  EXPECT_TRUE(found) << "no property or division " << only;
  const turnstone::Setup setup(all, "planted");
  std::map<ProofResult, std::set<std::string>> ids;
  for (const Proof& proof :
       Prove(*setup.FindSite("pebble-bay"), setup.catalogue(), {set},
             At("2027-01-04T10:00:00Z"), [](const std::string&) {})) {
    ids[proof.result].insert(proof.id);
  }
  return ids;
}

// Ids of what does not hold.
std::set<std::string> Unproved(const ShippedFiles& files) {
  std::set<std::string> unproved;
  for (const auto& [result, ids] : Proofs(files, "")) {
    if (result != ProofResult::kHolds) unproved.insert(ids.begin(), ids.end());
  }
  return unproved;
}

using Planted = testing::TestWithParam<Defect>;

class ByReading : public Planted {};
TEST_P(ByReading, IsFound) {
  ShippedFiles files = ReadShipped();
  ASSERT_NO_FATAL_FAILURE(Plant(GetParam(), files));
  EXPECT_THAT(FindIn(files, false), Contains(GetParam().found));
}

class ByTrying : public Planted {};
TEST_P(ByTrying, IsFound) {
  ShippedFiles files = ReadShipped();
  KeepRulesOf(GetParam().edits, false, files);
  EXPECT_THAT(FindIn(files, true), IsEmpty()) << "before it is planted";
  ASSERT_NO_FATAL_FAILURE(Plant(GetParam(), files));
  EXPECT_THAT(FindIn(files, true), Contains(GetParam().found));
}

class WithoutExamples : public Planted {};
TEST_P(WithoutExamples, IsFound) {
  ShippedFiles files = ReadShipped();
  KeepRulesOf(GetParam().edits, GetParam().found.starts_with("division"),
              files);
  StripExamples(files);
  EXPECT_THAT(FindIn(files, true), Not(Contains(GetParam().found)));
  ASSERT_NO_FATAL_FAILURE(Plant(GetParam(), files));
  EXPECT_THAT(FindIn(files, true), Contains(GetParam().found));
}

class ByProof : public Planted {};
TEST_P(ByProof, IsFound) {
  ShippedFiles files = ReadShipped();
  ASSERT_NO_FATAL_FAILURE(Plant(GetParam(), files));
  EXPECT_THAT(Proofs(files, GetParam().found)[ProofResult::kFails],
              Contains(GetParam().found));
}

// To be moved to another list once something does find it.
class ByNobody : public Planted {};
TEST_P(ByNobody, IsFound) {
  ShippedFiles files = ReadShipped();
  ASSERT_NO_FATAL_FAILURE(Plant(GetParam(), files));
  EXPECT_THAT(Unproved(files), IsEmpty());
  StripExamples(files);
  // These say no more than that the examples are gone.
  EXPECT_THAT(FindIn(files, true),
              UnorderedElementsAre("condition-not-shown", "example-missing"));
}

std::string NameOf(const testing::TestParamInfo<Defect>& info) {
  return info.param.name;
}
INSTANTIATE_TEST_SUITE_P(Check, ByReading, testing::ValuesIn(FoundByReading()),
                         NameOf);
INSTANTIATE_TEST_SUITE_P(Check, ByTrying, testing::ValuesIn(FoundByTrying()),
                         NameOf);
INSTANTIATE_TEST_SUITE_P(Check, WithoutExamples,
                         testing::ValuesIn(FoundWithoutExamples()), NameOf);
INSTANTIATE_TEST_SUITE_P(Prove, ByProof, testing::ValuesIn(FoundByProof()),
                         NameOf);
INSTANTIATE_TEST_SUITE_P(Prove, ByNobody, testing::ValuesIn(FoundByNobody()),
                         NameOf);

TEST(NothingPlanted, NothingIsFound) {
  EXPECT_THAT(FindIn(ReadShipped(), true), IsEmpty());
}

TEST(NothingPlanted, EverythingIsProved) {
  EXPECT_THAT(Unproved(ReadShipped()), IsEmpty());
}

}  // namespace
}  // namespace turnstone

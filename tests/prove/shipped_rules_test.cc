// What we ship holds.
#include <gtest/gtest.h>

#include <map>
#include <string>

#include "rules/prove/prove.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

// The numbers of cases are reckoned here by hand.
TEST(ShippedRules, EveryPropertyHolds) {
  const v1::Configuration shipped = ShippedConfiguration();
  const turnstone::Setup setup(shipped, "shipped");
  std::vector<std::string> announced;
  const std::vector<Proof> proofs =
      Prove(*setup.FindSite("pebble-bay"), setup.catalogue(),
            {shipped.property_set().begin(), shipped.property_set().end()},
            At("2027-01-04T10:00:00Z"),
            [&](const std::string& id) { announced.push_back(id); });
  std::map<std::string, uint64_t> cases;
  for (const Proof& proof : proofs) {
    EXPECT_EQ(proof.result, ProofResult::kHolds) << proof.id << proof.why;
    EXPECT_EQ(announced[cases.size()], proof.id);
    cases[proof.id] = proof.cases;
  }
  ASSERT_EQ(cases.size(), proofs.size());
  // Nine items with four answers or none, the question on difficulty likewise:
  // 5^10 forms, with the wish known either way or not, enrolled or not. 28
  // totals alone.
  constexpr uint64_t kForms = 9765625ULL * 3 * 2;
  constexpr uint64_t kTotals = 28ULL * 3 * 2;
  EXPECT_EQ(cases["phq-9-care-not-withheld"], kForms + kTotals);
  // "Not at all" on item 9 is not asked about: a fifth of the forms.
  EXPECT_EQ(cases["phq-9-self-harm-speaks"], kForms * 4 / 5 + kTotals);
  // Ten items of the EPDS, totals from 0 to 30.
  EXPECT_EQ(cases["epds-care-not-withheld"], kForms + 31ULL * 3 * 2);
  // Three steps on each of nine items, with every answer to the other nine.
  EXPECT_EQ(cases["worse-is-never-less-pressing"],
            uint64_t{3} * 9 * 1953125 * 3 * 2);
  // Nine items answered, difficulty or not, not enrolled.
  EXPECT_EQ(cases["who-enters"], uint64_t{262144} * 5 * 3);
  // Six outcomes of up to eight visits.
  EXPECT_EQ(cases["missed-contact-speaks"], 2015538U);
  // Totals 0 to 27, 25 ranges with one answer missing, and none at all: rows of
  // 54 forms, up to eight, enrolled at one of three times.
  uint64_t rows = 0;
  uint64_t of_length = 1;
  for (int forms = 1; forms <= 8; ++forms) {
    of_length *= 54;
    rows += of_length;
  }
  EXPECT_EQ(cases["deterioration-speaks"], 3 * rows);
}

}  // namespace
}  // namespace turnstone

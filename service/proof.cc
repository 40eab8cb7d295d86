#include "service/proof.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <cstdint>
#include <vector>

#include "rules/engine/setup.h"
#include "rules/prove/prove.h"

namespace turnstone {
namespace {

// "pebble-bay: property self-harm: expected ..., found ...".
std::string Failure(const std::string& site, const Proof& proof) {
  std::string text = absl::StrCat(site, ": ", proof.id, " (", proof.title, ")");
  if (!proof.why.empty()) absl::StrAppend(&text, ": ", proof.why);
  if (proof.counterexample) {
    absl::StrAppend(&text, ": ",
                    absl::StrJoin(proof.counterexample->words, ", "),
                    ": expected ", proof.counterexample->expected, ", but ",
                    proof.counterexample->found);
  }
  return text;
}

}  // namespace

absl::StatusOr<std::string> ProofOf(const v1::Configuration& configuration,
                                    absl::Time now) {
  const Setup setup(configuration, "");
  const std::vector<v1::PropertySet> sets(configuration.property_set().begin(),
                                          configuration.property_set().end());
  int properties = 0;
  uint64_t cases = 0;
  std::vector<std::string> failures;
  for (const auto& [id, site] : setup.sites()) {
    for (const Proof& proof :
         Prove(site, setup.catalogue(), sets, now, [](const std::string&) {})) {
      ++properties;
      cases += proof.cases;
      if (proof.result == ProofResult::kHolds) continue;
      failures.push_back(Failure(id, proof));
    }
  }
  if (failures.empty()) {
    return absl::StrCat("checked, and proved: ", properties,
                        " properties hold in ", cases, " cases");
  }
  return absl::FailedPreconditionError(absl::StrCat(
      "not put in force, for these do not hold, or could not be decided (see "
      "turnstone rules prove): ",
      absl::StrJoin(failures, "; ")));
}

}  // namespace turnstone

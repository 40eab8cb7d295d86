#include "clients/cli/render/replay_rows.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <tuple>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

std::string Certainty(const Verdict& verdict) {
  return verdict.truth == v1::TRUTH_UNKNOWN ? "for review" : "certain";
}

void AddUnlessSame(const std::string& before, const std::string& after,
                   std::vector<std::string>& parts) {
  if (before != after) parts.push_back(absl::StrCat(after, ", was ", before));
}

// "asap, was urgent; for review, was certain".
std::string HowItChanges(const ChangedVerdict& changed, absl::TimeZone zone) {
  const auto& [before, after] = changed;
  std::vector<std::string> parts;
  AddUnlessSame(Word(before.kind), Word(after.kind), parts);
  AddUnlessSame(Word(before.priority), Word(after.priority), parts);
  AddUnlessSame(Certainty(before), Certainty(after), parts);
  AddUnlessSame(DateTime(before.asked, zone), DateTime(after.asked, zone),
                parts);
  if (parts.empty()) parts.emplace_back("asked about another moment");
  return absl::StrJoin(parts, "; ");
}

}  // namespace

std::string VerdictText(const Verdict& verdict) {
  return CleanLine(absl::StrCat(verdict.rule, " (", Word(verdict.kind), ", ",
                                Word(verdict.priority), "): ", verdict.why));
}

std::vector<ReplayRow> RowsOf(const Difference& difference,
                              absl::TimeZone zone) {
  std::vector<ReplayRow> rows;
  const auto add = [&rows](const Verdict& verdict, const std::string& what,
                           std::string text) {
    rows.push_back(
        {CleanLine(verdict.participant), verdict.asked, what, std::move(text)});
  };
  for (const Verdict& verdict : difference.lost) {
    add(verdict, "no longer", VerdictText(verdict));
  }
  for (const Verdict& verdict : difference.added) {
    add(verdict, "new", VerdictText(verdict));
  }
  for (const ChangedVerdict& changed : difference.changed) {
    add(changed.before, "otherwise",
        CleanLine(absl::StrCat(changed.before.rule, ": ",
                               HowItChanges(changed, zone), ". ",
                               changed.after.why)));
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const ReplayRow& a, const ReplayRow& b) {
                     return std::tie(a.participant, a.asked) <
                            std::tie(b.participant, b.asked);
                   });
  return rows;
}

}  // namespace turnstone::cli

#include "service/store/audit_verifier.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "service/store/audit_numbers.h"

namespace turnstone {
namespace {

bool IsEmptied(const AuditRow& row) {
  return row.participant.empty() && row.detail.empty() && row.salt.empty();
}

}  // namespace

std::optional<std::string> AuditVerifier::WrongWith(
    const AuditRow& row, const std::string& chain) const {
  if (row.sealed && !IsEmptied(row)) {
    return "it was emptied, and yet says something";
  }
  if (chain != ChainAfter(chain_, row)) {
    return "it is not what was written here: it was changed, put in or moved, "
           "or one before it was taken out";
  }
  if (!row.emptied.empty() &&
      !NumbersFromText(row.emptied, row.sequence, rows_)) {
    return "which records it emptied cannot be read";
  }
  const auto expected = expected_.find(row.sequence);
  if (expected == expected_.end() || expected->second == chain) {
    return std::nullopt;
  }
  return absl::StrCat(
      "a checkpoint gives it another digest: the records from ", vouched_ + 1,
      " to ", row.sequence,
      " were written anew, one of them changed, put in, moved or taken out");
}

std::optional<AuditFault> AuditVerifier::Look(const AuditRow& row,
                                              const std::string& chain) {
  ++rows_;
  std::optional<AuditFault> fault;
  if (row.sequence != sequence_ + 1) {
    fault = {sequence_ + 1, "it is not there"};
  } else if (std::optional<std::string> wrong = WrongWith(row, chain)) {
    fault = {row.sequence, *std::move(wrong)};
  }
  if (!fault && expected_.contains(row.sequence)) vouched_ = row.sequence;
  if (row.sealed) sealed_.insert(row.sequence);
  if (auto numbers = NumbersFromText(row.emptied, row.sequence, rows_)) {
    emptied_.merge(*numbers);
  }
  // From here on as if all were well, so that the next fault is found too.
  sequence_ = row.sequence;
  chain_ = chain;
  return fault;
}

std::vector<AuditFault> AuditVerifier::End() const {
  std::vector<AuditFault> faults;
  for (const int64_t number : sealed_) {
    if (emptied_.contains(number)) continue;
    faults.push_back({number,
                      "it was emptied, and no erasure of a participant says "
                      "so"});
  }
  for (const int64_t number : emptied_) {
    if (sealed_.contains(number)) continue;
    faults.push_back({number,
                      "it was emptied when a participant was erased, and was "
                      "put back"});
  }
  std::sort(faults.begin(), faults.end(),
            [](const AuditFault& a, const AuditFault& b) {
              return a.sequence < b.sequence;
            });
  if (!expected_.empty() && expected_.rbegin()->first > sequence_) {
    faults.push_back(
        {sequence_ + 1,
         absl::StrCat("it is not there, nor is any after it: a checkpoint says "
                      "that there were ",
                      expected_.rbegin()->first)});
  }
  return faults;
}

}  // namespace turnstone

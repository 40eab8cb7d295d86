// Whether the records of an audit are those that were written. Pure: whoever
// reads them shows them one by one.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "service/store/audit_chain.h"

namespace turnstone {

struct AuditFault {
  int64_t sequence = 0;  // the first record that is not as it was written
  std::string what;
};

// Can be copied, to look on in two ways. Memory: as much as there were records
// emptied.
class AuditVerifier {
 public:
  // The record of that number had this digest: known from elsewhere.
  void Expect(int64_t sequence, const std::string& chain) {
    expected_[sequence] = chain;
  }
  // The next record, in order of sequence, with the digest it is kept with.
  // Absent: it is as it was written.
  [[nodiscard]] std::optional<AuditFault> Look(const AuditRow& row,
                                               const std::string& chain);
  // After the last one: what only the whole tells. In order of sequence.
  [[nodiscard]] std::vector<AuditFault> End() const;

  // Of the last record looked at; 0 and ChainBegin() if there was none.
  [[nodiscard]] int64_t sequence() const { return sequence_; }
  [[nodiscard]] const std::string& chain() const { return chain_; }

 private:
  [[nodiscard]] std::optional<std::string> WrongWith(
      const AuditRow& row, const std::string& chain) const;

  int64_t rows_ = 0;  // looked at
  int64_t sequence_ = 0;
  std::string chain_ = ChainBegin();
  // The last number at which what was expected was found.
  int64_t vouched_ = 0;
  std::map<int64_t, std::string> expected_;
  // Records without their text, and those that later records say were emptied.
  std::set<int64_t> sealed_;
  std::set<int64_t> emptied_;
};

}  // namespace turnstone

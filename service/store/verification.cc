#include "service/store/verification.h"

#include <algorithm>

namespace turnstone {
namespace {

constexpr int64_t kToldEvery = 1000;

}  // namespace

void Verification::Count() {
  Looked& now = looked_.back();
  ++now.count;
  if (progress_ && now.count % kToldEvery == 0) progress_(now.what, now.count);
}

void Verification::Add(const Fault& fault) {
  Looked& now = looked_.back();
  ++now.wrong;
  if (now.faults.size() < kKept) now.faults.push_back(fault);
}

bool Verification::ok() const {
  return std::all_of(looked_.begin(), looked_.end(), [](const Looked& one) {
    return one.wrong == 0 && one.remark.empty();
  });
}

}  // namespace turnstone

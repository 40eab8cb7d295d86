#include "tests/faults/sim_file.h"

#include <algorithm>
#include <utility>

namespace turnstone::faults {
namespace {

constexpr size_t kSector = 512;

}  // namespace

void SimFile::Apply(const Change& change, std::string& to) {
  if (change.bytes.empty()) {
    to.resize(change.at);
    return;
  }
  const size_t end = change.at + change.bytes.size();
  if (to.size() < end) to.resize(end);  // a hole is full of zeros
  std::copy(change.bytes.begin(), change.bytes.end(),
            to.begin() + static_cast<std::ptrdiff_t>(change.at));
}

void SimFile::Write(size_t at, const std::string& bytes) {
  if (bytes.empty()) return;
  pending_.push_back({at, bytes});
  Apply(pending_.back(), seen_);
}

void SimFile::Truncate(size_t size) {
  pending_.push_back({size, ""});
  Apply(pending_.back(), seen_);
}

void SimFile::Sync() {
  for (const Change& change : pending_) Apply(change, durable_);
  pending_.clear();
}

void SimFile::Tear(const Change& change, Random& random) {
  const size_t size = change.bytes.size();
  if (size == 0) return;
  if (random.PerMille(500)) {
    const auto part =
        static_cast<size_t>(random.Below(static_cast<int64_t>(size)));
    if (part > 0) Apply({change.at, change.bytes.substr(0, part)}, durable_);
    return;
  }
  for (size_t from = 0; from < size; from += kSector) {
    if (random.PerMille(500)) continue;
    Apply({change.at + from, change.bytes.substr(from, kSector)}, durable_);
  }
}

void SimFile::LandSome(const Fate& fate, Random& random) {
  for (const Change& change : pending_) {
    const int64_t chance = random.Below(1000);
    if (chance < fate.kept) {
      Apply(change, durable_);
    } else if (chance < fate.kept + fate.torn) {
      Tear(change, random);
    }
    // Else nothing of it is left; what came later may be there all the same.
  }
  pending_.clear();
}

void SimFile::FailSync(const Fate& fate, Random& random) {
  LandSome(fate, random);
}

void SimFile::CutPower(const Fate& fate, Random& random) {
  LandSome(fate, random);
  seen_ = durable_;
}

}  // namespace turnstone::faults

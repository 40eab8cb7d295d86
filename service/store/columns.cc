#include "service/store/columns.h"

#include <limits>

namespace turnstone {
namespace {

constexpr int64_t kNever = std::numeric_limits<int64_t>::max();
constexpr int64_t kAlways = std::numeric_limits<int64_t>::min();

}  // namespace

int64_t ToColumn(absl::Time time) {
  return absl::ToUnixMicros(time);  // infinities as the header says
}

absl::Time FromColumn(int64_t micros) {
  if (micros == kNever) return absl::InfiniteFuture();
  if (micros == kAlways) return absl::InfinitePast();
  return absl::FromUnixMicros(micros);
}

int64_t DeadlineToColumn(absl::Time time) {
  const int64_t micros = ToColumn(time);
  return FromColumn(micros) < time ? micros + 1 : micros;
}

}  // namespace turnstone

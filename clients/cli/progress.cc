#include "clients/cli/progress.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

namespace turnstone::cli {
namespace {

constexpr int64_t kBarWidth = 40;

}  // namespace

Progress::Progress(const Console& console, std::string what, int64_t total)
    : console_(console), what_(std::move(what)), total_(total) {}

Progress::~Progress() {
  if (drawn_ < 0) return;
  const size_t width = what_.size() + kBarWidth + 10;
  console_.err << "\r" << std::string(width, ' ') << "\r" << std::flush;
}

void Progress::Reach(int64_t done) {
  if (!console_.err_is_terminal || total_ <= 0) return;
  const int64_t percent = std::min<int64_t>(100, done * 100 / total_);
  if (percent == drawn_) return;
  drawn_ = percent;
  const auto full = static_cast<size_t>(percent * kBarWidth / 100);
  console_.err << absl::StrCat("\r", what_, " [", std::string(full, '#'),
                               std::string(kBarWidth - full, '.'), "] ",
                               percent, " %")
               << std::flush;
}

}  // namespace turnstone::cli

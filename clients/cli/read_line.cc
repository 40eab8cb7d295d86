#include "clients/cli/read_line.h"

namespace turnstone::cli {

bool ReadLine(std::istream& in, std::string& line) {
  line.clear();
  const std::istream::sentry ready(in, /*noskipws=*/true);
  if (!ready) return false;
  constexpr int kEnd = std::istream::traits_type::eof();
  int byte = in.rdbuf()->sbumpc();
  if (byte == kEnd) {
    in.setstate(std::ios::eofbit | std::ios::failbit);
    return false;
  }
  for (; byte != kEnd && byte != '\n'; byte = in.rdbuf()->sbumpc()) {
    if (line.size() <= kLongestLine) line += static_cast<char>(byte);
  }
  if (byte == kEnd) in.setstate(std::ios::eofbit);
  return true;
}

}  // namespace turnstone::cli

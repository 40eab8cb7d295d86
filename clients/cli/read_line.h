// Lines of a file that may be anybody's.
#pragma once

#include <istream>
#include <string>

namespace turnstone::cli {

// The longest line that is looked at.
inline constexpr size_t kLongestLine = size_t{256} << 10;

// The next line, as std::getline reads it; false at the end. Of a longer one
// only the first kLongestLine + 1 bytes are kept: enough to refuse it, however
// many gigabytes it has.
[[nodiscard]] bool ReadLine(std::istream& in, std::string& line);

}  // namespace turnstone::cli

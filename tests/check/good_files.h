// The invented configuration under tests/check/good, by path from there.
#pragma once

#include <map>
#include <string>

namespace turnstone {

using Files = std::map<std::string, std::string>;

// Fails the test if the folder cannot be read.
Files GoodFiles();

// As GoodFiles, with `from` in `path` replaced. Fails the test unless `from` is
// there exactly once.
Files GoodFilesBut(const std::string& path, const std::string& from,
                   const std::string& to);

}  // namespace turnstone

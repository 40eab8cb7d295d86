#include "tests/check/good_files.h"

#include <gtest/gtest.h>

#include "platform/files.h"

namespace turnstone {

Files GoodFiles() {
  const std::string folder =
      std::string(TURNSTONE_SOURCE_DIR) + "/tests/check/good/";
  const auto found = ReadTextprotos(folder);
  EXPECT_TRUE(found.ok()) << found.status();
  if (!found.ok()) return {};
  Files files;
  for (const auto& [path, text] : *found) {
    files[path.substr(folder.size())] = text;
  }
  EXPECT_EQ(files.size(), 4U);
  return files;
}

Files GoodFilesBut(const std::string& path, const std::string& from,
                   const std::string& to) {
  Files files = GoodFiles();
  std::string& text = files[path];
  const size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from << " is not in " << path;
  if (at == std::string::npos) return files;
  EXPECT_EQ(text.find(from, at + 1), std::string::npos)
      << from << " is in " << path << " more than once";
  text.replace(at, from.size(), to);
  return files;
}

}  // namespace turnstone

// Pages as they were looked over, in golden/.
#pragma once

#include <absl/strings/str_cat.h>
#include <gtest/gtest.h>

#include <string>

#include "platform/files.h"

namespace turnstone::cli {

inline std::string Golden(const std::string& name) {
  const auto text = ReadFile(
      absl::StrCat(TURNSTONE_SOURCE_DIR, "/tests/cli/golden/", name, ".txt"));
  EXPECT_TRUE(text.ok()) << text.status();
  return text.value_or("");
}

}  // namespace turnstone::cli

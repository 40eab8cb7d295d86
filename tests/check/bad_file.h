// One slip in a good file, and every finding it must lead to.
#pragma once

#include <ostream>
#include <string>
#include <vector>

namespace turnstone {

struct BadFile {
  std::string name;  // of the test
  std::string from;  // in the good file, once
  std::string to;
  // ":line:column: message; advice"; ": message; advice" for the whole file.
  // Lines and columns are counted in the text by hand.
  std::vector<std::string> findings;
  // The kind of each. Empty: whichever there is help for.
  std::vector<std::string> ids = {};
};

inline void PrintTo(const BadFile& bad, std::ostream* out) { *out << bad.name; }

// Fails the test unless exactly these findings come out, all for `path` and
// with a page of help, and no configuration.
void ExpectFindings(const std::string& path, const BadFile& bad);

}  // namespace turnstone

// From text files to a checked configuration. Any error refuses the whole set.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "turnstone/v1/site.pb.h"

namespace turnstone {

// One thing that is wrong, and what to do about it.
struct Finding {
  std::string path;
  int line = 0;         // from 1; 0: the file as a whole
  int column = 0;       // from 1
  std::string message;  // what is wrong
  std::string advice;   // what to write instead
  // Names the kind of finding, for ever: "rule-without-source". There is a page
  // of help for each.
  std::string id = {};
  // "path:line:column: message; advice"; without the numbers for a whole file.
  [[nodiscard]] std::string ToString() const;
};

struct LoadResult {
  // Present only when there are no findings.
  std::optional<v1::Configuration> configuration;
  // In order of path, line, column.
  std::vector<Finding> findings;
};

// `files` is text by path, as read by the caller. The kind of a file is told by
// the name of its folder: instruments/, packs/ or sites/. `complete` also
// requires at least one site and that every name a site or rule refers to
// exists. Pure.
[[nodiscard]] LoadResult LoadConfiguration(
    const std::map<std::string, std::string>& files, bool complete);

}  // namespace turnstone

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
  std::string id;
  // "path:line:column: message; advice"; without the numbers for a whole file.
  [[nodiscard]] std::string ToString() const;
};

// How much of a rule set its examples show: of each condition, that it matters
// when it holds, and that it matters when it does not.
struct Coverage {
  std::string rule_set;
  int shown = 0;
  int total = 0;
};

struct LoadOptions {
  // Also requires at least one site, and that every name a site or rule refers
  // to exists.
  bool complete = false;
  // Where nothing else is wrong, also tries out every rule: its examples, what
  // they show, and what no example could. Takes seconds.
  bool review = false;
};

struct LoadResult {
  // Present only when there are no findings.
  std::optional<v1::Configuration> configuration;
  // In order of path, line, column.
  std::vector<Finding> findings;
  // Of each rule set that was tried out.
  std::vector<Coverage> coverage = {};
};

// `files` is text by path, as read by the caller. The kind of a file is told by
// the name of its folder: instruments/, packs/, properties/ or sites/. Pure.
[[nodiscard]] LoadResult LoadConfiguration(
    const std::map<std::string, std::string>& files,
    const LoadOptions& options);

}  // namespace turnstone

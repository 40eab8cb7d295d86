// How far a long piece of work has come, drawn on a terminal.
#pragma once

#include <cstdint>
#include <string>

#include "clients/cli/command.h"

namespace turnstone::cli {

// Draws nothing where nobody looks on. Single-thread.
class Progress {
 public:
  // `what`: "replaying". `total`: how much there is; 0 while not known.
  Progress(const Console& console, std::string what, int64_t total);
  // Wipes the line.
  ~Progress();

  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void SetTotal(int64_t total) { total_ = total; }
  void Reach(int64_t done);

 private:
  const Console& console_;
  const std::string what_;
  int64_t total_;
  int64_t drawn_ = -1;  // percent
};

}  // namespace turnstone::cli

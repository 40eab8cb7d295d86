// What became of the lines of a submission, counted and told.
#pragma once

#include <string>
#include <vector>

#include "clients/cli/command.h"
#include "clients/cli/submit_batch.h"

namespace turnstone::cli {

class SubmitReport {
 public:
  SubmitReport(const Console& console, bool json);

  // Tells each line in order: refused ones on `err`; with --json every line
  // on `out`.
  void Add(const std::vector<InputLine>& lines);

  // The last words: the numbers, the alerts concerned, the lines without a
  // known result.
  void Finish(const absl::Status& status);

  [[nodiscard]] int refused() const { return refused_; }

 private:
  void Tell(const InputLine& line);
  void TellJson(const InputLine& line);
  void ShowProgress();
  void ClearProgress();

  const Console& console_;
  const bool json_;
  int accepted_ = 0;
  int known_already_ = 0;
  int refused_ = 0;
  std::vector<std::string> alerts_;
  std::vector<int> open_;
};

// "3", "3, 5 to 9".
[[nodiscard]] std::string LineNumbers(const std::vector<int>& numbers);

}  // namespace turnstone::cli

// The one way out of the program. What renders cleans its texts; this stands
// behind it, so that a place that forgot does not hand a stranger's note the
// terminal.
#pragma once

#include <ostream>
#include <streambuf>

namespace turnstone::cli {

// Passes everything on to `out`, cleaned as a line is, but for newlines, tabs,
// carriage returns and the few codes that the program itself writes. JSON keeps
// its meaning. Not for several threads; a character is written in one piece.
class TerminalGate final : public std::streambuf {
 public:
  explicit TerminalGate(std::ostream& out) : out_(out) {}
  TerminalGate(const TerminalGate&) = delete;
  TerminalGate& operator=(const TerminalGate&) = delete;

 protected:
  int_type overflow(int_type byte) override;
  std::streamsize xsputn(const char* text, std::streamsize count) override;
  int sync() override;

 private:
  std::ostream& out_;
};

}  // namespace turnstone::cli

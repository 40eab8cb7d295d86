#include "clients/cli/terminal_gate.h"

#include <algorithm>
#include <string>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/terminal_codes.h"

namespace turnstone::cli {
namespace {

// Bytes at `at` that pass as they are: one of our own codes, or a byte that
// moves on in the text. 0: neither.
size_t OwnAt(const std::string& text, size_t at) {
  for (const char* own : kTerminalCodes) {
    const std::string code = own;
    if (text.compare(at, code.size(), code) == 0) return code.size();
  }
  return std::string("\n\t\r").find(text[at]) == std::string::npos ? 0 : 1;
}

std::string Passed(const std::string& text) {
  std::string passed;
  for (size_t at = 0; at < text.size();) {
    const size_t own = OwnAt(text, at);
    passed.append(text, at, own);
    at += own;
    const size_t next =
        std::min(text.find_first_of("\n\t\r\x1b\a", at + (own == 0 ? 1 : 0)),
                 text.size());
    passed += CleanLine(text.substr(at, next - at));
    at = next;
  }
  return passed;
}

}  // namespace

TerminalGate::int_type TerminalGate::overflow(int_type byte) {
  if (traits_type::eq_int_type(byte, traits_type::eof())) return 0;
  const char c = traits_type::to_char_type(byte);
  return xsputn(&c, 1) == 1 ? byte : traits_type::eof();
}

std::streamsize TerminalGate::xsputn(const char* text, std::streamsize count) {
  out_ << Passed(std::string(text, static_cast<size_t>(count)));
  return out_ ? count : 0;
}

int TerminalGate::sync() { return out_.flush() ? 0 : -1; }

}  // namespace turnstone::cli

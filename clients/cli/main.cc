// The command-line client of turnstone.
#include <sys/ioctl.h>
#include <unistd.h>

#include <cstdlib>
#include <ios>
#include <iostream>
#include <string>

#include "clients/cli/run.h"

namespace turnstone::cli {
namespace {

std::string Variable(const char* name) {
  const char* const value = std::getenv(name);
  return value == nullptr ? "" : value;
}

// None if there is nothing that could be drawn on. NO_COLOR: no-color.org.
std::optional<Window> FindWindow() {
  const std::string kind = Variable("TERM");
  winsize size = {};
  if (isatty(STDOUT_FILENO) == 0 || kind.empty() || kind == "dumb" ||
      ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0) {
    return std::nullopt;
  }
  Window window;
  if (size.ws_col > 0) window.columns = size.ws_col;
  if (size.ws_row > 0) window.rows = size.ws_row;
  window.styled = Variable("NO_COLOR").empty();
  return window;
}

}  // namespace
}  // namespace turnstone::cli

int main(int argc, char** argv) {
  // Lets the streams tell how much input is waiting.
  std::ios::sync_with_stdio(false);
  turnstone::cli::RealSleeper sleeper;
  const turnstone::cli::Console console{
      .in = std::cin,
      .out = std::cout,
      .err = std::cerr,
      .err_is_terminal = isatty(STDERR_FILENO) != 0,
      .sleeper = sleeper,
      .window = turnstone::cli::FindWindow};
  return turnstone::cli::Run({argv + 1, argv + argc}, console);
}

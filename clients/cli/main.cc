// The command-line client of turnstone.
#include <unistd.h>

#include <ios>
#include <iostream>

#include "clients/cli/run.h"

int main(int argc, char** argv) {
  // Lets the streams tell how much input is waiting.
  std::ios::sync_with_stdio(false);
  turnstone::cli::RealSleeper sleeper;
  const turnstone::cli::Console console{std::cin, std::cout, std::cerr,
                                        isatty(STDERR_FILENO) != 0, sleeper};
  return turnstone::cli::Run({argv + 1, argv + argc}, console);
}

// Everything the program itself says to a terminal beside text. Source:
// ECMA-48.
#pragma once

#include <array>

namespace turnstone::cli {

// Cursor to the upper left, erase what is shown.
inline constexpr char kErase[] = "\x1b[H\x1b[2J";
inline constexpr char kBold[] = "\x1b[1m";
inline constexpr char kReverse[] = "\x1b[7m";
inline constexpr char kPlain[] = "\x1b[0m";
inline constexpr char kBell[] = "\a";

inline constexpr std::array<const char*, 5> kTerminalCodes = {
    kErase, kBold, kReverse, kPlain, kBell};

}  // namespace turnstone::cli

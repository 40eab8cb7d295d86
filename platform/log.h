// Structured log: one JSON object a line on standard error. Never a score, an
// answer, a note or any other clinical content: callers pass names and counts.
#pragma once

#include <initializer_list>
#include <string>
#include <utility>

namespace turnstone {

// "info": all is well. "warning": somebody should look. "error": something
// that was promised is not being done.
enum class LogLevel { kInfo, kWarning, kError };

// Thread-safe; one line is never mixed with another.
void Log(LogLevel level, const std::string& event,
         std::initializer_list<std::pair<std::string, std::string>> fields);

}  // namespace turnstone

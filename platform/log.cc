#include "platform/log.h"

#include <absl/time/clock.h>
#include <absl/time/time.h>

#include <cstdio>
#include <nlohmann/json.hpp>

namespace turnstone {
namespace {

const char* Name(LogLevel level) {
  switch (level) {
    case LogLevel::kInfo:
      return "info";
    case LogLevel::kWarning:
      return "warning";
    case LogLevel::kError:
      return "error";
  }
  return "error";
}

}  // namespace

void Log(LogLevel level, const std::string& event,
         std::initializer_list<std::pair<std::string, std::string>> fields) {
  nlohmann::ordered_json line;
  line["time"] =
      absl::FormatTime(absl::RFC3339_full, absl::Now(), absl::UTCTimeZone());
  line["level"] = Name(level);
  line["event"] = event;
  for (const auto& [name, value] : fields) line[name] = value;
  const std::string text =
      line.dump(-1, ' ', true, nlohmann::json::error_handler_t::replace) + "\n";
  std::fwrite(text.data(), 1, text.size(), stderr);
}

}  // namespace turnstone

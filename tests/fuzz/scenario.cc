#include "rules/check/event_check.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"
#include "tests/scenarios/script.h"
#include "tests/scenarios/sentences.h"
#include "tests/support/shipped.h"

namespace turnstone::fuzz {

int Scenario(const uint8_t* data, size_t size) {
  static const auto& setup = *new Setup(ShippedSetup());
  const absl::TimeZone zone = absl::UTCTimeZone();
  const absl::Time now = absl::FromUnixSeconds(kNowSeconds);
  const auto steps =
      scenarios::ParseScript({reinterpret_cast<const char*>(data), size});
  if (!steps.ok()) return 0;
  std::optional<v1::Event> last;
  for (const scenarios::Step& step : *steps) {
    scenarios::ReadLocal(step.text, zone).status().IgnoreError();
    auto event = scenarios::EventOf(step.text, "e-1", now, zone, last);
    if (!event.ok()) continue;
    event->set_site("pebble-bay");
    event->set_participant("p-1");
    CheckEvent(*event, setup, now).IgnoreError();
    last = *std::move(event);
  }
  return 0;
}

}  // namespace turnstone::fuzz

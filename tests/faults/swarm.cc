#include "tests/faults/swarm.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>
#include <vector>

namespace turnstone::faults {
namespace {

using Rate = std::pair<const char*, int Swarm::*>;

const std::vector<Rate>& Rates() {
  static const auto& rates = *new std::vector<Rate>{
      {"submits", &Swarm::submits},
      {"works", &Swarm::works},
      {"hands_over", &Swarm::hands_over},
      {"breaks_channel", &Swarm::breaks_channel},
      {"mends_channel", &Swarm::mends_channel},
      {"sets_wall_back", &Swarm::sets_wall_back},
      {"sets_wall_forward", &Swarm::sets_wall_forward},
      {"reloads", &Swarm::reloads},
      {"shadows", &Swarm::shadows},
      {"stops", &Swarm::stops},
      {"arms_death", &Swarm::arms_death},
      {"arms_failure", &Swarm::arms_failure},
      {"is_large", &Swarm::is_large},
      {"is_wrong", &Swarm::is_wrong},
      {"is_correction", &Swarm::is_correction},
      {"is_late", &Swarm::is_late},
      {"answer_lost", &Swarm::answer_lost},
      {"sent_again", &Swarm::sent_again},
      {"sent_with_other_content", &Swarm::sent_with_other_content},
      {"power_goes_too", &Swarm::power_goes_too},
      {"stays_down", &Swarm::stays_down},
      {"fails_for_ever", &Swarm::fails_for_ever},
      {"is_long", &Swarm::is_long},
      {"is_days", &Swarm::is_days},
  };
  return rates;
}

}  // namespace

std::string Swarm::ToString() const {
  std::string text =
      absl::StrCat("participants ", participants, ", in_memory ", in_memory);
  for (const auto& [name, rate] : Rates()) {
    if (this->*rate > 0) absl::StrAppend(&text, ", ", name, " ", this->*rate);
  }
  if (fills_disk > 0) absl::StrAppend(&text, ", fills_disk ", fills_disk);
  return text;
}

Swarm DrawSwarm(Random& random, bool disk_may_fill) {
  Swarm swarm;
  swarm.participants = static_cast<int>(random.Between(1, 5));
  if (random.PerMille(400)) swarm.in_memory = 2;
  for (const auto& [name, rate] : Rates()) {
    // Left out, as it is, or much oftener.
    const int64_t way = random.Below(6);
    if (way == 0) swarm.*rate = 0;
    if (way == 5) swarm.*rate = std::min(900, swarm.*rate * 4);
  }
  // Without facts and people nothing happens at all.
  if (swarm.submits == 0) swarm.submits = 600;
  if (swarm.power_goes_too == 0 && random.PerMille(500)) {
    swarm.power_goes_too = 500;
  }
  if (disk_may_fill && random.PerMille(500)) swarm.fills_disk = 40;
  return swarm;
}

}  // namespace turnstone::faults

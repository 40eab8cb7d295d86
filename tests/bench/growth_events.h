// What is posted about the participants of a growing programme.
#pragma once

#include <string>
#include <vector>

#include "turnstone/v1/service.pb.h"

namespace turnstone {

// Invents the next event about a participant: one programme after another of 36
// events, plan, form, outcome and report of each visit. None of them raises an
// alert: one that nobody closes would grow with every reason for it.
class GrowthEvents {
 public:
  [[nodiscard]] v1::SubmitRequest Next(int participant);

 private:
  std::vector<int> given_;  // events, by participant
  int posted_ = 0;
};

}  // namespace turnstone

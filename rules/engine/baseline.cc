#include "rules/engine/baseline.h"

namespace turnstone {

const Fact* BaselineAmong(const std::vector<const Fact*>& earlier,
                          const Fact* enrolment) {
  const Fact* baseline = nullptr;
  for (const Fact* form : earlier) {
    if (!WasDone(*form->As<Screening>())) continue;
    if (baseline == nullptr ||
        (enrolment != nullptr && form->effective <= enrolment->effective)) {
      baseline = form;
    }
  }
  return baseline;
}

}  // namespace turnstone

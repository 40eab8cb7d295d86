#include "rules/engine/baseline.h"

namespace turnstone {

const Fact* LaterBaseline(const Fact* baseline, const Fact& form,
                          const Fact* enrolment) {
  const bool until_enrolment =
      enrolment != nullptr && form.effective <= enrolment->effective;
  if (baseline != nullptr && !until_enrolment) return baseline;
  return WasDone(*form.As<Screening>()) ? &form : baseline;
}

const Fact* BaselineAmong(const std::vector<const Fact*>& earlier,
                          const Fact* enrolment) {
  const Fact* baseline = nullptr;
  for (const Fact* form : earlier) {
    baseline = LaterBaseline(baseline, *form, enrolment);
  }
  return baseline;
}

}  // namespace turnstone

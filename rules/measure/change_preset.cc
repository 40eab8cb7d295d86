#include "rules/measure/change_preset.h"

namespace turnstone {

int PointsOf(const v1::ChangePreset& preset) {
  if (preset.has_points()) return preset.points();
  return SmallestReliableWholeChange(
      {preset.standard_deviation(), preset.reliability()});
}

}  // namespace turnstone

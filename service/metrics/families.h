// The figures in Prometheus' terms.
#pragma once

#include <absl/status/statusor.h>
#include <prometheus/metric_family.h>

#include <string>
#include <vector>

#include "service/core/figures.h"

namespace turnstone {

// What is told where there are no figures is only that. `data` is the folder
// of the store.
[[nodiscard]] std::vector<prometheus::MetricFamily> Families(
    const absl::StatusOr<Figures>& figures, const std::string& data);

}  // namespace turnstone

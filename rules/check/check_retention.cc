#include "rules/check/check_retention.h"

#include "rules/check/require.h"

namespace turnstone {
namespace {

// Less than a month leaves no time for a late fact or a complaint; more than a
// hundred years is a slip. Common practice, no source.
constexpr Interval kAfterDischarge{30, 36500};
// A message is looked for within days, if somebody says it never came.
constexpr Interval kMessages{7, 36500};

}  // namespace

void CheckRetention(const v1::SiteConfig& site, const Place& file) {
  if (!site.has_retention()) return;
  const v1::Retention& retention = site.retention();
  const Place place = file.At("retention");
  if (retention.has_after_discharge_days()) {
    RequireNumber(place, "after_discharge_days", kAfterDischarge);
  }
  if (retention.has_messages_days()) {
    RequireNumber(place, "messages_days", kMessages);
  }
  if (retention.has_after_discharge_days() || retention.has_messages_days()) {
    return;
  }
  place.Report("retention-empty",
               "retention says nothing, so everything is kept for ever",
               "write after_discharge_days, messages_days or both, or leave "
               "retention out");
}

}  // namespace turnstone

#include <google/protobuf/io/zero_copy_stream_impl_lite.h>
#include <google/protobuf/util/delimited_message_util.h>

#include "rules/check/event_check.h"
#include "rules/replay/replay.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"
#include "tests/support/shipped.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone::fuzz {

int EventWire(const uint8_t* data, size_t size) {
  static const auto& setup = *new Setup(ShippedSetup());
  const absl::Time now = absl::FromUnixSeconds(kNowSeconds);
  google::protobuf::io::ArrayInputStream in(data, static_cast<int>(size));
  Replay replay(setup, setup, "pebble-bay", {});
  v1::SubmitRequest request;
  bool end = false;
  while (google::protobuf::util::ParseDelimitedFromZeroCopyStream(&request, &in,
                                                                  &end)) {
    const absl::Status checked = CheckEvent(request.event(), setup, now);
    if (!checked.ok()) {
      Promise(!checked.message().empty(), "a refusal says why");
      continue;
    }
    // Refused where it mends what is not there.
    replay.Take(request.event(), now).IgnoreError();
  }
  const Difference difference = replay.Finish();
  Promise(difference.added.empty() && difference.lost.empty() &&
              difference.changed.empty(),
          "the same rules say the same");
  return 0;
}

}  // namespace turnstone::fuzz

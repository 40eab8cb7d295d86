#include "service/rpc/connection_limits.h"

#include <absl/time/time.h>
#include <grpc/grpc.h>

#include <string>

namespace turnstone {
namespace {

// An event or a request. Answers are bounded by their pages, and must not fail
// because there is much to say.
constexpr int kMessageBytesMax = 256 * 1024;
constexpr int kMetadataBytesMax = 8 * 1024;
// Calls on one connection; those of one caller are counted beside (Limits).
constexpr int kStreamsMax = 1024;
// Whoever has not finished with TLS and HTTP/2's first words by then is cut
// off.
constexpr absl::Duration kHandshakeMax = absl::Seconds(10);
// Whether somebody is still there is asked, and an answer waited for.
constexpr absl::Duration kAskedAfter = absl::Minutes(1);
constexpr absl::Duration kAnswerMax = absl::Seconds(20);
constexpr absl::Duration kIdleMax = absl::Minutes(30);
// Then it is to be opened anew, with whatever certificate is good by then;
// calls under way have the second time to end.
constexpr absl::Duration kAgeMax = absl::Hours(4);
constexpr absl::Duration kLastCallsMax = absl::Hours(1);

}  // namespace

void LimitConnections(grpc::ServerBuilder& builder) {
  builder.SetMaxReceiveMessageSize(kMessageBytesMax);
  const auto number = [&builder](const std::string& name, int value) {
    builder.AddChannelArgument(name, value);
  };
  const auto time = [&number](const std::string& name, absl::Duration value) {
    number(name, static_cast<int>(absl::ToInt64Milliseconds(value)));
  };
  number(GRPC_ARG_MAX_METADATA_SIZE, kMetadataBytesMax);
  number(GRPC_ARG_MAX_CONCURRENT_STREAMS, kStreamsMax);
  time(GRPC_ARG_SERVER_HANDSHAKE_TIMEOUT_MS, kHandshakeMax);
  time(GRPC_ARG_KEEPALIVE_TIME_MS, kAskedAfter);
  time(GRPC_ARG_KEEPALIVE_TIMEOUT_MS, kAnswerMax);
  time(GRPC_ARG_MAX_CONNECTION_IDLE_MS, kIdleMax);
  time(GRPC_ARG_MAX_CONNECTION_AGE_MS, kAgeMax);
  time(GRPC_ARG_MAX_CONNECTION_AGE_GRACE_MS, kLastCallsMax);
}

}  // namespace turnstone

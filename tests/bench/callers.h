// Callers who post events, each the next one when the last was answered.
#pragma once

#include <grpcpp/channel.h>

#include <memory>
#include <string>
#include <vector>

#include "tests/bench/measured.h"
#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone {

using Requests = std::vector<v1::SubmitRequest>;

// Says who calls. Each has a name of their own: the service limits what one may
// ask for.
void Introduce(grpc::ClientContext& context, int caller = 0);

// Posts all of them by unary calls, `callers` at a time. `follow`: somebody
// follows the alerts meanwhile, and it is measured when an event's alert
// reaches them.
[[nodiscard]] Measured PostUnary(const std::shared_ptr<grpc::Channel>& channel,
                                 const Requests& requests, int callers,
                                 bool follow = false);

// Posts all of them by `callers` streams, which take turns; about 256 events
// are on their way in all, at most 128 of one stream.
[[nodiscard]] Measured PostStreams(
    const std::shared_ptr<grpc::Channel>& channel, const Requests& requests,
    int callers);

}  // namespace turnstone

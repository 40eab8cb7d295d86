// What a connection may cost, whoever is at its other end.
#pragma once

#include <grpcpp/server_builder.h>

namespace turnstone {

// Sets sizes, times and numbers. Common practice, no source.
void LimitConnections(grpc::ServerBuilder& builder);

}  // namespace turnstone

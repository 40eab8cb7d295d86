// Warnings that go with an answer.
#pragma once

#include <google/protobuf/message.h>
#include <grpcpp/server_context.h>

namespace turnstone {

// For each note or reason in `request` that looks as if it said who somebody
// is, a line "turnstone-warning" of metadata behind the answer, whatever the
// answer; see service.proto. To be called before Finish.
void WarnOfFreeText(grpc::CallbackServerContext& context,
                    const google::protobuf::Message& request);

}  // namespace turnstone

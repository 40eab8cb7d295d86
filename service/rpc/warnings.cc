#include "service/rpc/warnings.h"

#include "rules/check/free_text.h"

namespace turnstone {

void WarnOfFreeText(grpc::CallbackServerContext& context,
                    const google::protobuf::Message& request) {
  for (const std::string& warning : FreeTextWarnings(request)) {
    context.AddTrailingMetadata("turnstone-warning", warning);
  }
}

}  // namespace turnstone

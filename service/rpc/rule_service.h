// Versions of the rules: shape, identity, and the proof before anything is put
// in force.
#pragma once

#include <absl/status/statusor.h>

#include <functional>
#include <string>

#include "service/rpc/background.h"
#include "service/rpc/entrance.h"
#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone {

// As ProofOf; called on a thread of its own.
using Prover = std::function<absl::StatusOr<std::string>(
    const v1::Configuration& configuration, absl::Time now)>;

// Thread-safe. What it is given must outlive it.
class RuleServiceImpl final : public v1::RuleService::CallbackService {
 public:
  RuleServiceImpl(const Entrance& entrance, Prover prover)
      : entrance_(entrance), prover_(std::move(prover)) {}
  grpc::ServerUnaryReactor* ListVersions(grpc::CallbackServerContext* context,
                                         const v1::ListVersionsRequest* request,
                                         v1::VersionList* response) override;
  grpc::ServerUnaryReactor* GetVersion(grpc::CallbackServerContext* context,
                                       const v1::GetVersionRequest* request,
                                       v1::VersionContent* response) override;
  grpc::ServerUnaryReactor* ActivateVersion(
      grpc::CallbackServerContext* context,
      const v1::ActivateVersionRequest* request,
      v1::RuleVersion* response) override;
  grpc::ServerUnaryReactor* ConfirmVersion(
      grpc::CallbackServerContext* context,
      const v1::ConfirmVersionRequest* request,
      v1::RuleVersion* response) override;
  grpc::ServerUnaryReactor* ShadowVersion(
      grpc::CallbackServerContext* context,
      const v1::ShadowVersionRequest* request,
      v1::RuleVersion* response) override;
  grpc::ServerUnaryReactor* ListShadow(grpc::CallbackServerContext* context,
                                       const v1::ListShadowRequest* request,
                                       v1::ShadowPage* response) override;
  grpc::ServerWriteReactor<v1::RecordedEvent>* ReadEvents(
      grpc::CallbackServerContext* context,
      const v1::ReadEventsRequest* request) override;

  // Finishes the proof under way; every call about one has its answer then.
  void Stop() { background_.Stop(); }

 private:
  const Entrance entrance_;
  const Prover prover_;
  Background background_;
};

}  // namespace turnstone

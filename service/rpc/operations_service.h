// Looking after the data: shape, identity, and the way to the commit thread.
#pragma once

#include "service/core/backup_folder.h"
#include "service/rpc/background.h"
#include "service/rpc/entrance.h"
#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone {

// Thread-safe. `thread` must outlive it.
class OperationsServiceImpl final
    : public v1::OperationsService::CallbackService {
 public:
  // `backups`: folder; empty: none can be made.
  OperationsServiceImpl(const Entrance& entrance, const std::string& backups)
      : entrance_(entrance), folder_(backups) {}
  grpc::ServerWriteReactor<v1::BackUpProgress>* BackUp(
      grpc::CallbackServerContext* context,
      const v1::BackUpRequest* request) override;
  grpc::ServerUnaryReactor* EraseParticipant(
      grpc::CallbackServerContext* context,
      const v1::EraseParticipantRequest* request,
      v1::Erasure* response) override;

  // Finishes the check under way; every call about one has its answer then.
  void Stop() { background_.Stop(); }

 private:
  const Entrance entrance_;
  BackupFolder folder_;
  Background background_;
};

}  // namespace turnstone

// One BackUp call.
#pragma once

#include <grpcpp/server_context.h>
#include <grpcpp/support/server_callback.h>

#include <string>

#include "service/core/backup_folder.h"
#include "service/rpc/background.h"
#include "service/rpc/entrance.h"
#include "turnstone/v1/operations.pb.h"

namespace turnstone {

// What a backup is made with. All of it outlives every call.
struct BackUpTools {
  CommitThread& thread;
  // Where the copy is checked, which takes as long as reading it.
  Background& background;
  BackupFolder& folder;
};

// Has the commit thread copy a little, tells how far it has come, and so on.
// Deletes itself when the call is over.
class BackUpReactor final
    : public grpc::ServerWriteReactor<v1::BackUpProgress> {
 public:
  BackUpReactor(const BackUpTools& tools, grpc::CallbackServerContext* context,
                Entered entered);
  void OnWriteDone(bool ok) override;
  void OnDone() override { delete this; }

 private:
  void Begin();
  void CopyMore();
  void Check(const v1::Backup& holds);
  void TellDone(const v1::Backup& backup);
  void End(const absl::Status& status);
  // Runs `work` on the commit thread; where that is too busy, the backup ends.
  void OnCommitThread(CommitThread::Read work);

  const BackUpTools tools_;
  grpc::CallbackServerContext* const context_;
  const Entered entered_;
  v1::Actor by_;
  std::string unfinished_;  // path; empty: it has not begun
  v1::BackUpProgress sending_;
};

}  // namespace turnstone

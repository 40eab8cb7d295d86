#include "service/rpc/back_up.h"

#include <utility>

#include "platform/log.h"
#include "service/rpc/access.h"
#include "service/rpc/status.h"
#include "service/store/copy.h"

namespace turnstone {

BackUpReactor::BackUpReactor(const BackUpTools& tools,
                             grpc::CallbackServerContext* context,
                             Entered entered)
    : tools_(tools), context_(context), entered_(std::move(entered)) {
  Begin();
}

void BackUpReactor::OnCommitThread(CommitThread::Read work) {
  if (!tools_.thread.PushRead(std::move(work), entered_.source))
    End(QueueFull());
}

void BackUpReactor::Begin() {
  OnCommitThread([this](Core& core) {
    // Whoever may not have one made is not to learn more than that.
    const absl::StatusOr<Caller> caller =
        PassGate(core, entered_.who, v1::BackUpRequest());
    if (!caller.ok()) return End(caller.status());
    by_ = caller->by;
    if (absl::Status status = core.CheckMayBackUp(*caller); !status.ok()) {
      return End(status);
    }
    absl::StatusOr<std::string> path = tools_.folder.Begin();
    if (!path.ok()) return End(path.status());
    unfinished_ = *std::move(path);
    const absl::Status begun = core.BeginBackUp(unfinished_);
    if (!begun.ok()) return End(begun);
    CopyMore();
  });
}

void BackUpReactor::CopyMore() {
  OnCommitThread([this](Core& core) {
    if (context_->IsCancelled()) {
      core.EndBackUp();
      return End(GaveUp());
    }
    const absl::StatusOr<Core::BackUpStep> step = core.GoOnBackingUp();
    if (!step.ok()) return End(step.status());
    if (step->copy.whole) return Check(step->holds);
    sending_.mutable_copied()->set_bytes(step->copy.bytes);
    sending_.mutable_copied()->set_bytes_total(step->copy.bytes_total);
    StartWrite(&sending_);
  });
}

void BackUpReactor::Check(const v1::Backup& holds) {
  const bool taken = tools_.background.Push([this, holds] {
    v1::Backup backup = holds;
    const absl::StatusOr<int64_t> bytes =
        FinishCopy(unfinished_, tools_.folder.PathOf(backup.file()),
                   [this] { return !context_->IsCancelled(); });
    if (!bytes.ok()) return End(bytes.status());
    backup.set_bytes(*bytes);
    OnCommitThread([this, backup](Core& core) {
      // It is there, whether or not that can be put on record.
      const absl::Status recorded = core.RecordBackUp(backup, by_);
      if (!recorded.ok()) {
        Log(LogLevel::kError, "a backup could not be put on record",
            {{"file", backup.file()},
             {"why", std::string(recorded.message())}});
      }
      TellDone(backup);
    });
  });
  if (!taken) End(QueueFull());
}

void BackUpReactor::TellDone(const v1::Backup& backup) {
  Log(LogLevel::kInfo, "backup made",
      {{"file", backup.file()},
       {"bytes", std::to_string(backup.bytes())},
       {"events", std::to_string(backup.events())}});
  *sending_.mutable_done() = backup;
  StartWrite(&sending_);
}

void BackUpReactor::OnWriteDone(bool ok) {
  if (sending_.has_done()) return End(absl::OkStatus());
  if (ok) return CopyMore();
  OnCommitThread([this](Core& core) {
    core.EndBackUp();
    End(GaveUp());
  });
}

void BackUpReactor::End(const absl::Status& status) {
  if (!unfinished_.empty()) {
    tools_.folder.End();
    if (!status.ok()) {
      Log(LogLevel::kError, "backup not made",
          {{"why", std::string(status.message())}});
    }
  }
  Finish(ToGrpc(status));
}

}  // namespace turnstone

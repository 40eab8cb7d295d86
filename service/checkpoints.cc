#include "service/checkpoints.h"

#include <absl/strings/str_cat.h>
#include <sys/stat.h>

#include <filesystem>

#include "platform/log.h"
#include "service/deliver/credentials.h"

namespace turnstone {
namespace {

constexpr char kFile[] = "audit-checkpoints.jsonl";

absl::Status MakeFolder(const std::string& folder) {
  std::error_code error;
  if (std::filesystem::is_directory(folder, error)) return absl::OkStatus();
  if (mkdir(folder.c_str(), 0700) == 0) return absl::OkStatus();
  return absl::FailedPreconditionError(
      absl::StrCat("--checkpoints ", folder,
                   ": there is no such folder and it cannot be made; make it, "
                   "for the service to write"));
}

void TellThatThereAreNone(const std::string& why) {
  Log(LogLevel::kWarning, "no checkpoints of the audit are signed",
      {{"why", why},
       {"what that means",
        "whoever has the database can cut off the end of the audit"}});
}

}  // namespace

absl::StatusOr<std::unique_ptr<Checkpoints>> Checkpoints::Open(
    const std::string& folder, const std::string& credentials) {
  if (folder.empty()) {
    TellThatThereAreNone("started without --checkpoints FOLDER");
    return nullptr;
  }
  const absl::StatusOr<std::string> pem =
      Credentials(credentials).Read(kKeyFile);
  if (!pem.ok()) {
    TellThatThereAreNone(std::string(pem.status().message()));
    return nullptr;
  }
  absl::StatusOr<SigningKey> key = SigningKey::FromPem(*pem);
  if (!key.ok()) {
    return absl::FailedPreconditionError(absl::StrCat(
        kKeyFile, " in the credentials folder: ", key.status().message()));
  }
  if (absl::Status made = MakeFolder(folder); !made.ok()) return made;
  return std::unique_ptr<Checkpoints>(
      new Checkpoints(absl::StrCat(folder, "/", kFile), *std::move(key)));
}

void Checkpoints::Look(Core& core, bool now) {
  const absl::StatusOr<AuditTip> tip = core.GetAuditTip();
  if (!tip.ok() || tip->sequence == last_.sequence) return;
  const bool due = tip->sequence - last_.sequence >= kEveryRecords ||
                   core.Now() - last_at_ >= kLongest;
  if (!due && !now) return;
  last_ = *tip;
  last_at_ = core.Now();
  (void)background_.Push(
      [this, tip = last_, at = last_at_] { Write(tip, at); });
}

void Checkpoints::Write(const AuditTip& tip, absl::Time at) const {
  const absl::StatusOr<std::string> line = CheckpointLine(tip, at, key_);
  const absl::Status status =
      line.ok() ? AppendCheckpoint(path_, *line) : line.status();
  if (status.ok()) return;
  Log(LogLevel::kError, "a checkpoint of the audit could not be written",
      {{"why", std::string(status.message())},
       {"what to do", "mend it; the next one covers everything before it"}});
}

}  // namespace turnstone

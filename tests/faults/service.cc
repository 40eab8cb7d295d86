#include "tests/faults/service.h"

#include <filesystem>
#include <utility>

#include "service/store/sqlite_store.h"

namespace turnstone::faults {

Service::Service(SimDisk& disk, const SimClock& clock, std::string folder,
                 const v1::Configuration& files, size_t in_memory)
    : disk_(disk),
      clock_(clock),
      folder_(std::move(folder)),
      files_(files),
      in_memory_(in_memory) {
  std::filesystem::remove_all(folder_);
}

Service::~Service() {
  End();
  std::filesystem::remove_all(folder_);
}

absl::Status Service::Start() {
  auto store = OpenSqliteStore(folder_);
  if (!store.ok()) return store.status();
  CoreOptions options;
  options.participants_in_memory_max = in_memory_;
  auto core = std::make_unique<Core>(*std::move(store), clock_, options);
  const auto report = core->Start(files_);
  if (!report.ok()) return report.status();
  if (report->used_last_good) return absl::InternalError(report->refused);
  core_ = std::move(core);
  round_ = std::make_unique<CommitRound>(*core_, hub_);
  round_->Begin();
  return absl::OkStatus();
}

void Service::End() {
  round_.reset();
  core_.reset();
}

}  // namespace turnstone::faults

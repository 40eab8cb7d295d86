#include "tests/faults/sim_disk.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <cstring>

#include "tests/faults/sim_vfs.h"

namespace turnstone::faults {
namespace {

int CodeFor(SimDisk::Op op) {
  switch (op) {
    case SimDisk::Op::kWrite:
      return SQLITE_IOERR_WRITE;
    case SimDisk::Op::kSync:
      return SQLITE_IOERR_FSYNC;
    case SimDisk::Op::kTruncate:
      return SQLITE_IOERR_TRUNCATE;
    case SimDisk::Op::kRead:
      return SQLITE_IOERR_READ;
    case SimDisk::Op::kOpen:
      return SQLITE_CANTOPEN;
    case SimDisk::Op::kDelete:
      return SQLITE_IOERR_DELETE;
  }
  return SQLITE_IOERR;
}

const char* NameOf(SimDisk::Op op) {
  static constexpr const char* kNames[] = {"write", "sync", "truncate",
                                           "read",  "open", "delete"};
  return kNames[static_cast<size_t>(op)];
}

}  // namespace

SimDisk::SimDisk(uint64_t seed) : vfs_(MakeVfs(*this)), random_(seed) {
  sqlite3_vfs_register(&vfs_, /*makeDflt=*/1);
  sqlite3_randomness(0, nullptr);  // to be seeded by this disk
}

SimDisk::~SimDisk() {
  sqlite3_vfs_unregister(&vfs_);
  sqlite3_randomness(0, nullptr);
}

void SimDisk::Fail(const Fault& fault) {
  fault_ = fault;
  failed_ = false;
}

void SimDisk::Heal() {
  fault_.reset();
  failed_ = false;
  stop_at_ = 0;
}

void SimDisk::CutPower() {
  stopped_ = true;
  for (auto& [name, entry] : names_) {
    if (entry.seen != entry.durable && random_.PerMille(500)) {
      entry.seen = entry.durable;
    }
    if (entry.seen != nullptr) entry.seen->CutPower(fate_, random_);
    entry.durable = entry.seen;
  }
}

void SimDisk::Start() {
  Heal();
  stopped_ = false;
  ++life_;
}

size_t SimDisk::used() const {
  size_t used = 0;
  for (const auto& [name, entry] : names_) {
    if (entry.seen != nullptr) used += entry.seen->bytes().size();
  }
  return used;
}

int64_t SimDisk::Count(Op op, const std::string& suffix) const {
  int64_t count = 0;
  for (const auto& [what, times] : counts_) {
    if (what.first == op && absl::EndsWith(what.second, suffix)) count += times;
  }
  return count;
}

size_t SimDisk::SizeOf(const std::string& name) const {
  const auto found = names_.find(name);
  if (found == names_.end() || found->second.seen == nullptr) return 0;
  return found->second.seen->bytes().size();
}

bool SimDisk::Matches(Op op, const std::string& name) const {
  return (!fault_->only || *fault_->only == op) &&
         absl::EndsWith(name, fault_->suffix);
}

SimDisk::Verdict SimDisk::Judge(Op op, const std::string& name, int life) {
  if (stopped_ || life != life_) return {SQLITE_IOERR, false};
  ++operations_;
  ++counts_[{op, name}];
  const auto hit = [&] {
    hit_ = absl::StrCat(NameOf(op), " ", name.substr(name.rfind('/') + 1));
  };
  if (operations_ == stop_at_) {
    stopped_ = true;
    hit();
    return {SQLITE_IOERR, true};
  }
  if (!fault_ || !Matches(op, name)) return {};
  if (fault_->nth > 1) {
    --fault_->nth;
    return {};
  }
  const int code = fault_->code != 0 ? fault_->code : CodeFor(op);
  if (!fault_->for_ever) fault_.reset();
  if (!failed_) hit();
  failed_ = true;
  return {code, true};
}

int SimDisk::Open(const std::string& name, int flags,
                  std::unique_ptr<OpenFile>& opened) {
  const Verdict verdict = Judge(Op::kOpen, name, life_);
  if (verdict.code != SQLITE_OK) return verdict.code;
  std::shared_ptr<SimFile> file;
  if (name.empty()) {
    file = std::make_shared<SimFile>();
  } else {
    Entry& entry = names_[name];
    if (entry.seen == nullptr) entry.seen = std::make_shared<SimFile>();
    if ((flags & SQLITE_OPEN_MAIN_DB) != 0) SyncFolder();
    file = entry.seen;
  }
  const bool passing = (flags & SQLITE_OPEN_DELETEONCLOSE) != 0;
  opened = std::make_unique<OpenFile>(OpenFile{name, file, life_, passing});
  return SQLITE_OK;
}

int SimDisk::Read(const OpenFile& from, size_t at, size_t size, char* to) {
  const Verdict verdict = Judge(Op::kRead, from.name, from.life);
  if (verdict.code != SQLITE_OK) return verdict.code;
  const std::string& bytes = from.file->bytes();
  const size_t there =
      at < bytes.size() ? std::min(size, bytes.size() - at) : 0;
  std::copy_n(bytes.data() + (there > 0 ? at : 0), there,
              static_cast<char*>(to));
  if (there == size) return SQLITE_OK;
  std::memset(to + there, 0, size - there);  // as SQLite asks for
  return SQLITE_IOERR_SHORT_READ;
}

int SimDisk::Write(const OpenFile& to, size_t at, const std::string& bytes) {
  const Verdict verdict = Judge(Op::kWrite, to.name, to.life);
  if (verdict.code != SQLITE_OK) {
    const auto most = static_cast<int64_t>(bytes.size());
    const auto part = static_cast<size_t>(random_.Between(0, most));
    if (verdict.underway) to.file->Write(at, bytes.substr(0, part));
    return verdict.code;
  }
  const size_t before = to.file->bytes().size();
  const size_t end = at + bytes.size();
  if (capacity_ && end > before && used() + (end - before) > *capacity_) {
    const size_t room = *capacity_ > used() ? *capacity_ - used() : 0;
    const size_t last = before + room;
    if (last > at) to.file->Write(at, bytes.substr(0, last - at));
    return SQLITE_FULL;
  }
  to.file->Write(at, bytes);
  return SQLITE_OK;
}

int SimDisk::Truncate(const OpenFile& file, size_t size) {
  const Verdict verdict = Judge(Op::kTruncate, file.name, file.life);
  if (verdict.code == SQLITE_OK) file.file->Truncate(size);
  return verdict.code;
}

int SimDisk::Sync(const OpenFile& file) {
  const Verdict verdict = Judge(Op::kSync, file.name, file.life);
  if (verdict.code != SQLITE_OK) {
    if (verdict.underway && !stopped_) file.file->FailSync(fate_, random_);
    return verdict.code;
  }
  file.file->Sync();
  const auto entry = names_.find(file.name);
  if (entry != names_.end() && entry->second.seen == file.file &&
      entry->second.durable != file.file) {
    SyncFolder();
  }
  return SQLITE_OK;
}

void SimDisk::SyncFolder() {
  for (auto& [name, entry] : names_) entry.durable = entry.seen;
}

int SimDisk::Delete(const std::string& name, bool sync_folder) {
  const Verdict verdict = Judge(Op::kDelete, name, life_);
  if (verdict.code != SQLITE_OK) return verdict.code;
  if (!Exists(name)) return SQLITE_IOERR_DELETE_NOENT;
  names_[name].seen = nullptr;
  if (sync_folder) SyncFolder();
  return SQLITE_OK;
}

bool SimDisk::Exists(const std::string& name) const {
  const auto found = names_.find(name);
  return found != names_.end() && found->second.seen != nullptr;
}

const std::string* SimDisk::Pretended(const std::string& pragma) const {
  const auto found = pretended_.find(pragma);
  return found != pretended_.end() ? &found->second : nullptr;
}

}  // namespace turnstone::faults

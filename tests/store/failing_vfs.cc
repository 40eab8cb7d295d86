#include "tests/store/failing_vfs.h"

#include <absl/strings/match.h>

#include <algorithm>

namespace turnstone {
namespace {

using Call = FailingVfs::Call;

// SQLite allocates this, with the real file behind it.
struct File {
  sqlite3_file base;  // must be first
  FailingVfs* vfs;
  const char* name;

  sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
};

File* Ours(sqlite3_file* file) { return reinterpret_cast<File*>(file); }
sqlite3_file* Real(sqlite3_file* file) { return Ours(file)->real(); }

sqlite3_vfs* RealVfs(sqlite3_vfs* vfs) {
  // The real default comes next in SQLite's list.
  return vfs->pNext;
}

int Note(Call call, sqlite3_file* file) {
  return Ours(file)->vfs->Note(call, Ours(file)->name);
}

// The file is to be `size` bytes long; no shorter, unless it `may_shrink`.
int Grow(sqlite3_file* file, sqlite3_int64 size, bool may_shrink) {
  sqlite3_int64 before = 0;
  Real(file)->pMethods->xFileSize(Real(file), &before);
  if (!may_shrink) size = std::max(size, before);
  return Ours(file)->vfs->Grow(size - before);
}

int Close(sqlite3_file* file) {
  return Real(file)->pMethods->xClose(Real(file));
}

int Read(sqlite3_file* file, void* to, int size, sqlite3_int64 offset) {
  return Real(file)->pMethods->xRead(Real(file), to, size, offset);
}

int Write(sqlite3_file* file, const void* from, int size,
          sqlite3_int64 offset) {
  int failure = Note(Call::kWrite, file);
  if (failure == SQLITE_OK) failure = Grow(file, offset + size, false);
  const int written = failure == SQLITE_OK ? size : size / 2;
  const int code =
      Real(file)->pMethods->xWrite(Real(file), from, written, offset);
  return failure != SQLITE_OK ? failure : code;
}

int Truncate(sqlite3_file* file, sqlite3_int64 size) {
  const int failure = Note(Call::kTruncate, file);
  if (failure != SQLITE_OK) return failure;
  (void)Grow(file, size, true);
  return Real(file)->pMethods->xTruncate(Real(file), size);
}

int Sync(sqlite3_file* file, int /*flags*/) { return Note(Call::kSync, file); }

int FileSize(sqlite3_file* file, sqlite3_int64* size) {
  return Real(file)->pMethods->xFileSize(Real(file), size);
}

int Lock(sqlite3_file* file, int level) {
  return Real(file)->pMethods->xLock(Real(file), level);
}

int Unlock(sqlite3_file* file, int level) {
  return Real(file)->pMethods->xUnlock(Real(file), level);
}

int CheckReservedLock(sqlite3_file* file, int* held) {
  return Real(file)->pMethods->xCheckReservedLock(Real(file), held);
}

int FileControl(sqlite3_file* file, int what, void* argument) {
  if (what == SQLITE_FCNTL_PRAGMA) {
    char** words = static_cast<char**>(argument);  // answer, name, new value
    const std::string* answer = Ours(file)->vfs->Pretended(words[1]);
    if (answer != nullptr) {
      words[0] = sqlite3_mprintf("%s", answer->c_str());
      return SQLITE_OK;
    }
  }
  return Real(file)->pMethods->xFileControl(Real(file), what, argument);
}

int SectorSize(sqlite3_file* file) {
  return Real(file)->pMethods->xSectorSize(Real(file));
}

int DeviceCharacteristics(sqlite3_file* file) {
  return Real(file)->pMethods->xDeviceCharacteristics(Real(file));
}

// Version 1: no shared memory. A store that needs some would not open.
sqlite3_io_methods Methods() {
  sqlite3_io_methods methods{};
  methods.iVersion = 1;
  methods.xClose = &Close;
  methods.xRead = &Read;
  methods.xWrite = &Write;
  methods.xTruncate = &Truncate;
  methods.xSync = &Sync;
  methods.xFileSize = &FileSize;
  methods.xLock = &Lock;
  methods.xUnlock = &Unlock;
  methods.xCheckReservedLock = &CheckReservedLock;
  methods.xFileControl = &FileControl;
  methods.xSectorSize = &SectorSize;
  methods.xDeviceCharacteristics = &DeviceCharacteristics;
  return methods;
}

const sqlite3_io_methods kMethods = Methods();

int Open(sqlite3_vfs* vfs, const char* name, sqlite3_file* file, int flags,
         int* flags_out) {
  Ours(file)->vfs = static_cast<FailingVfs*>(vfs->pAppData);
  Ours(file)->name = name != nullptr ? name : "";
  sqlite3_vfs* real = RealVfs(vfs);
  const int code = real->xOpen(real, name, Real(file), flags, flags_out);
  file->pMethods = code == SQLITE_OK ? &kMethods : nullptr;
  return code;
}

}  // namespace

FailingVfs::FailingVfs() : vfs_(*sqlite3_vfs_find(nullptr)) {
  vfs_.zName = "failing";
  vfs_.pAppData = this;
  vfs_.szOsFile += static_cast<int>(sizeof(File));
  vfs_.xOpen = &Open;
  sqlite3_vfs_register(&vfs_, /*makeDflt=*/1);
}

FailingVfs::~FailingVfs() { sqlite3_vfs_unregister(&vfs_); }

void FailingVfs::FailOnce(int nth, const std::string& suffix, int code) {
  failure_ = {{Call::kWrite, Call::kSync, Call::kTruncate}, nth, suffix, code};
  failed_ = false;
}

void FailingVfs::FailOnce(Call only, int nth, const std::string& suffix,
                          int code) {
  failure_ = {{only}, nth, suffix, code};
  failed_ = false;
}

int FailingVfs::Count(Call call, const std::string& suffix) const {
  return static_cast<int>(
      std::count_if(log_.begin(), log_.end(), [&](const auto& entry) {
        return entry.first == call && absl::EndsWith(entry.second, suffix);
      }));
}

int FailingVfs::Note(Call call, const char* file) {
  log_.emplace_back(call, file);
  const std::vector<Call>& calls = failure_.calls;
  if (failure_.countdown == 0 || !absl::EndsWith(file, failure_.suffix) ||
      std::find(calls.begin(), calls.end(), call) == calls.end() ||
      --failure_.countdown > 0) {
    return SQLITE_OK;
  }
  failed_ = true;
  return failure_.code;
}

int FailingVfs::Grow(int64_t bytes) {
  if (room_ == nullptr) return SQLITE_OK;
  if (*room_ < 0 || bytes > *room_) return SQLITE_FULL;
  *room_ -= bytes;
  return SQLITE_OK;
}

const std::string* FailingVfs::Pretended(const std::string& pragma) const {
  const auto found = pretended_.find(pragma);
  return found != pretended_.end() ? &found->second : nullptr;
}

}  // namespace turnstone

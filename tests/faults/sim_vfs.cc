#include "tests/faults/sim_vfs.h"

#include <cstddef>
#include <cstring>
#include <memory>
#include <string>

#include "tests/faults/sim_disk.h"

namespace turnstone::faults {
namespace {

// SQLite allocates this.
struct Handle {
  sqlite3_file base;  // must be first
  SimDisk* disk;
  SimDisk::OpenFile* file;
};

Handle& Ours(sqlite3_file* file) { return *reinterpret_cast<Handle*>(file); }

SimDisk& DiskOf(sqlite3_vfs* vfs) {
  return *static_cast<SimDisk*>(vfs->pAppData);
}

int Close(sqlite3_file* file) {
  const std::unique_ptr<SimDisk::OpenFile> closed(Ours(file).file);
  if (closed->delete_on_close && !closed->name.empty()) {
    return Ours(file).disk->Delete(closed->name, false);
  }
  return SQLITE_OK;
}

int Read(sqlite3_file* file, void* to, int size, sqlite3_int64 at) {
  return Ours(file).disk->Read(*Ours(file).file, static_cast<size_t>(at),
                               static_cast<size_t>(size),
                               static_cast<char*>(to));
}

int Write(sqlite3_file* file, const void* from, int size, sqlite3_int64 at) {
  const std::string bytes(static_cast<const char*>(from),
                          static_cast<size_t>(size));
  return Ours(file).disk->Write(*Ours(file).file, static_cast<size_t>(at),
                                bytes);
}

int Truncate(sqlite3_file* file, sqlite3_int64 size) {
  return Ours(file).disk->Truncate(*Ours(file).file, static_cast<size_t>(size));
}

int Sync(sqlite3_file* file, int /*flags*/) {
  return Ours(file).disk->Sync(*Ours(file).file);
}

int FileSize(sqlite3_file* file, sqlite3_int64* size) {
  *size = static_cast<sqlite3_int64>(Ours(file).file->file->bytes().size());
  return SQLITE_OK;
}

// The store lets nobody else in: there is no one to lock out.
int Lock(sqlite3_file* /*file*/, int /*level*/) { return SQLITE_OK; }

int CheckReservedLock(sqlite3_file* /*file*/, int* held) {
  *held = 0;
  return SQLITE_OK;
}

int FileControl(sqlite3_file* file, int what, void* argument) {
  if (what != SQLITE_FCNTL_PRAGMA) return SQLITE_NOTFOUND;
  char** words = static_cast<char**>(argument);  // answer, name, new value
  const std::string* answer = Ours(file).disk->Pretended(words[1]);
  if (answer == nullptr) return SQLITE_NOTFOUND;
  words[0] = sqlite3_mprintf("%s", answer->c_str());
  return SQLITE_OK;
}

int SectorSize(sqlite3_file* /*file*/) { return 4096; }

// As SQLite's own for Unix: a write that is torn harms nothing beside it.
int DeviceCharacteristics(sqlite3_file* /*file*/) {
  return SQLITE_IOCAP_POWERSAFE_OVERWRITE;
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
  methods.xUnlock = &Lock;
  methods.xCheckReservedLock = &CheckReservedLock;
  methods.xFileControl = &FileControl;
  methods.xSectorSize = &SectorSize;
  methods.xDeviceCharacteristics = &DeviceCharacteristics;
  return methods;
}

const sqlite3_io_methods kMethods = Methods();

int Open(sqlite3_vfs* vfs, const char* name, sqlite3_file* file, int flags,
         int* flags_out) {
  std::unique_ptr<SimDisk::OpenFile> opened;
  const int code = DiskOf(vfs).Open(name != nullptr ? name : "", flags, opened);
  file->pMethods = code == SQLITE_OK ? &kMethods : nullptr;
  if (code != SQLITE_OK) return code;
  Ours(file).disk = &DiskOf(vfs);
  Ours(file).file = opened.release();
  if (flags_out != nullptr) *flags_out = flags;
  return SQLITE_OK;
}

int Delete(sqlite3_vfs* vfs, const char* name, int sync_folder) {
  return DiskOf(vfs).Delete(name, sync_folder != 0);
}

// As SQLite's own for Unix: an empty file is as none.
int Access(sqlite3_vfs* vfs, const char* name, int /*how*/, int* there) {
  *there = DiskOf(vfs).SizeOf(name) > 0 ? 1 : 0;
  return SQLITE_OK;
}

int FullPathname(sqlite3_vfs* /*vfs*/, const char* name, int size, char* full) {
  if (std::strlen(name) >= static_cast<size_t>(size)) return SQLITE_CANTOPEN;
  std::memcpy(full, name, std::strlen(name) + 1);
  return SQLITE_OK;
}

int Randomness(sqlite3_vfs* vfs, int size, char* bytes) {
  for (int i = 0; i < size; ++i) {
    bytes[i] = static_cast<char>(DiskOf(vfs).random().Below(256));
  }
  return size;
}

int Sleep(sqlite3_vfs* /*vfs*/, int micros) { return micros; }

}  // namespace

sqlite3_vfs MakeVfs(SimDisk& disk) {
  sqlite3_vfs vfs = *sqlite3_vfs_find(nullptr);
  vfs.zName = "simulated";
  vfs.pAppData = &disk;
  vfs.pNext = nullptr;
  vfs.szOsFile = static_cast<int>(sizeof(Handle));
  vfs.xOpen = &Open;
  vfs.xDelete = &Delete;
  vfs.xAccess = &Access;
  vfs.xFullPathname = &FullPathname;
  vfs.xRandomness = &Randomness;
  vfs.xSleep = &Sleep;
  return vfs;
}

}  // namespace turnstone::faults

#include <absl/strings/str_cat.h>

#include <filesystem>

#include "service/store/pragmas.h"
#include "service/store/schema.h"
#include "service/store/store_folder.h"
#include "service/store/verify.h"

namespace turnstone {
namespace {

constexpr char kRestore[] =
    "keep a copy of the whole folder, then restore the latest backup";

absl::Status CheckPages(Database& db, Verification& verification) {
  verification.Begin("pages of the file");
  const absl::StatusOr<int64_t> pages = ReadInt(db.Query("PRAGMA page_count"));
  if (!pages.ok()) return pages.status();
  for (int64_t i = 0; i < *pages; ++i) verification.Count();
  return ForEachRow(db, "PRAGMA integrity_check", [&](const Statement& row) {
    if (row.Bytes(0) == "ok") return;
    verification.Add({"BrokeDurable", "the file",
                      absl::StrCat(row.Bytes(0), ": ", kRestore)});
  });
}

absl::Status CheckReferences(Database& db, Verification& verification) {
  verification.Begin("references between tables");
  return ForEachRow(db, "PRAGMA foreign_key_check", [&](const Statement& row) {
    verification.Add({"BrokeDurable", absl::StrCat("table ", row.Bytes(0)),
                      absl::StrCat("a row points to nothing: ", kRestore)});
  });
}

// In this order: the lock is let go after the database is closed.
struct Held {
  std::unique_ptr<StoreFolder> folder;
  std::unique_ptr<Database> db;
};

absl::StatusOr<Held> OpenToLook(const std::string& folder) {
  const std::string path = absl::StrCat(folder, "/turnstone.db");
  std::error_code error;
  if (!std::filesystem::exists(path, error)) {
    return absl::NotFoundError(absl::StrCat("there is no store in ", folder,
                                            ": name the folder that turnstoned "
                                            "is started with as --data"));
  }
  absl::StatusOr<std::unique_ptr<StoreFolder>> held = StoreFolder::Open(folder);
  if (!held.ok()) return held.status();
  absl::StatusOr<std::unique_ptr<Database>> db = Database::Open(path);
  if (!db.ok()) return db.status();
  absl::Status status = SetConnectionPragmas(**db);
  if (status.ok()) status = CheckSchema(**db);
  if (!status.ok()) return status;
  return Held{*std::move(held), *std::move(db)};
}

// `verify` on the rows, unless an older program wrote them.
absl::Status VerifyToday(Database& db, Verification& verification,
                         const std::function<absl::Status()>& verify) {
  const absl::StatusOr<int64_t> version = SchemaVersion(db);
  if (!version.ok()) return version.status();
  if (*version == SchemaToday()) return verify();
  verification.Begin("rows");
  verification.Remark(absl::StrCat(
      "not looked at: an older turnstoned wrote them (schema ", *version,
      ", today's is ", SchemaToday(),
      "); restore a backup of it into a new folder, which brings that up to "
      "date and looks it over, or start the service once"));
  return absl::OkStatus();
}

}  // namespace

absl::Status ForEachRow(Database& db, const std::string& sql,
                        const std::function<void(const Statement&)>& look) {
  Statement statement = db.Query(sql);
  while (true) {
    const absl::StatusOr<bool> more = statement.Step();
    if (!more.ok()) return more.status();
    if (!*more) return absl::OkStatus();
    look(statement);
  }
}

absl::Status VerifyFile(const std::string& folder, const Digester& digest,
                        Verification& verification) {
  const absl::StatusOr<Held> held = OpenToLook(folder);
  if (!held.ok()) return held.status();
  Database& db = *held->db;
  absl::Status status = CheckPages(db, verification);
  if (!status.ok() || !verification.ok()) return status;
  status = CheckReferences(db, verification);
  if (!status.ok()) return status;
  return VerifyToday(db, verification,
                     [&] { return VerifyRows(db, digest, verification); });
}

absl::Status VerifyAuditAlone(const std::string& folder,
                              const AuditVerifier& verifier,
                              Verification& verification) {
  const absl::StatusOr<Held> held = OpenToLook(folder);
  if (!held.ok()) return held.status();
  Database& db = *held->db;
  return VerifyToday(db, verification,
                     [&] { return VerifyAudit(db, verifier, verification); });
}

}  // namespace turnstone

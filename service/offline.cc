#include "service/offline.h"

#include <absl/strings/str_cat.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <string>

#include "service/audit_verify.h"
#include "service/core/verify_record.h"
#include "service/store/restore.h"
#include "service/store/sqlite_store.h"

namespace turnstone {
namespace {

constexpr int kNotWell = 1;
constexpr int kNotUnderstood = 2;
constexpr size_t kWhatWidth = 42;

void Say(const std::string& line) { std::puts(line.c_str()); }

int Failed(const absl::Status& status) {
  std::fprintf(stderr, "turnstoned: %s\n",
               std::string(status.message()).c_str());
  return kNotWell;
}

void ShowProgress(const std::string& what, int64_t count) {
  if (isatty(STDERR_FILENO) == 0) return;
  std::fprintf(stderr, "\r%s: %lld ", what.c_str(),
               static_cast<long long>(count));
}

void Show(const Looked& looked) {
  const std::string verdict = !looked.remark.empty() ? looked.remark
                              : looked.wrong == 0
                                  ? "as they should be"
                                  : absl::StrCat(looked.wrong, " WRONG");
  std::string what = looked.what;
  what.resize(std::max(what.size(), kWhatWidth), ' ');
  Say(absl::StrCat("  ", what, absl::Dec(looked.count, absl::kSpacePad9), "  ",
                   verdict));
  for (const Fault& fault : looked.faults) {
    Say(absl::StrCat("      ", fault.guarantee, " at ", fault.place, ": ",
                     fault.what));
  }
  const auto shown = static_cast<int64_t>(looked.faults.size());
  if (looked.wrong > shown) {
    Say(absl::StrCat("      and ", looked.wrong - shown, " more"));
  }
}

int Verify(const std::string& folder) {
  Verification verification(&ShowProgress);
  const absl::Status status = VerifyFolder(folder, verification);
  if (isatty(STDERR_FILENO) != 0) std::fputs("\r", stderr);
  Say(absl::StrCat("looked over ", folder, ":"));
  for (const Looked& looked : verification.looked()) Show(looked);
  if (!status.ok()) return Failed(status);
  if (verification.ok()) {
    Say("Everything is as it should be.");
    return 0;
  }
  Say("Not everything could be found as it should be; see above.");
  return kNotWell;
}

absl::Status SayWhatIsIn(const std::string& folder) {
  const absl::StatusOr<std::unique_ptr<Store>> store = OpenSqliteStore(folder);
  if (!store.ok()) return store.status();
  const absl::StatusOr<Recovered> recovered = (*store)->Recover();
  if (!recovered.ok()) return recovered.status();
  Say(absl::StrCat("restored into ", folder, ": ", recovered->last_sequence,
                   " events, up to ",
                   absl::FormatTime("%Y-%m-%d %H:%M:%S UTC",
                                    recovered->last_now, absl::UTCTimeZone()),
                   " by the service's time"));
  return absl::OkStatus();
}

int Restore(const std::string& from, const std::string& folder) {
  absl::Status status = CopyBackupInto(from, folder);
  if (!status.ok()) return Failed(status);
  status = SayWhatIsIn(folder);
  if (!status.ok()) {
    RemoveRestored(folder);
    return Failed(status);
  }
  const int verified = Verify(folder);
  Say("WHAT WAS ACCEPTED AFTER THIS BACKUP IS NOT IN IT.\n"
      "- Every source must send its events from that time on again, with the "
      "same ids; what is in it already has no second effect.\n"
      "- What people did about alerts since then is lost: go through the open "
      "alerts with whoever was on duty.\n"
      "- Messages sent since then may be sent again.\n"
      "- Participants erased since then are in it again: erase them again.");
  return verified;
}

int VerifyTheAudit(const AuditVerifyOptions& options) {
  std::string said;
  const absl::StatusOr<bool> well = VerifyAuditOf(options, said);
  if (!well.ok()) return Failed(well.status());
  std::fputs(said.c_str(), stdout);
  return *well ? 0 : kNotWell;
}

// The command; `options` must outlive the parsing.
CLI::App* AddAuditVerify(CLI::App& app, AuditVerifyOptions& options) {
  CLI::App* const verify = app.add_subcommand(
      "audit-verify",
      "whether no record of who did what was taken out, changed or moved; exit "
      "code 0 if all is well");
  CLI::Option* const checkpoints = verify->add_option(
      "--checkpoints", options.checkpoints,
      "signed checkpoints, as kept elsewhere: also finds an end cut off");
  CLI::Option* const key = verify->add_option(
      "--key", options.key, "the public key they are signed by");
  checkpoints->needs(key);
  key->needs(checkpoints);
  return verify;
}

}  // namespace

bool IsOffline(int argc, const char** argv) {
  if (argc < 2) return false;
  const std::string first = argv[1];
  return first == "verify" || first == "restore" || first == "audit-verify";
}

int RunOffline(int argc, const char** argv) {
  CLI::App app("turnstoned: looking after the data while it is not running.");
  app.require_subcommand(1);
  std::string data;
  std::string from;
  CLI::App* const verify = app.add_subcommand(
      "verify",
      "look over the data from end to end; exit code 0 if all is well");
  CLI::App* const restore = app.add_subcommand(
      "restore", "make a backup the data of a new folder, and verify it");
  AuditVerifyOptions audit_options;
  CLI::App* const audit = AddAuditVerify(app, audit_options);
  for (CLI::App* const one : {verify, restore, audit}) {
    one->add_option("--data", data, "the folder")->required();
  }
  restore->add_option("--from", from, "the backup, a file")->required();
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    Say(app.help());
    return 0;
  } catch (const CLI::ParseError& error) {
    std::fprintf(stderr, "turnstoned: %s; see turnstoned verify --help\n",
                 error.what());
    return kNotUnderstood;
  }
  audit_options.data = data;
  if (audit->parsed()) return VerifyTheAudit(audit_options);
  return restore->parsed() ? Restore(from, data) : Verify(data);
}

}  // namespace turnstone

#include "clients/cli/commands.h"
#include "clients/cli/json_line.h"
#include "clients/cli/progress.h"
#include "clients/cli/render/operations_page.h"

namespace turnstone::cli {
namespace {

// As long as a large copy to a slow disk may take.
constexpr absl::Duration kLongest = absl::Hours(12);

constexpr char kAskAgain[] =
    "Whether there is a backup is not known: look into the service's folder of "
    "backups.\nMaking another one is safe.";

ExitCode MakeBackup(const Console& console, const Settings& settings,
                    const Connection& connection) {
  grpc::ClientContext context;
  connection.Prepare(context, kLongest);
  const auto reader = connection.operations->BackUp(&context, {});
  v1::BackUpProgress news;
  {
    Progress progress(console, "copying", 0);
    while (reader->Read(&news)) {
      progress.SetTotal(news.copied().bytes_total());
      progress.Reach(news.copied().bytes());
    }
  }
  const absl::Status status = FromGrpc(reader->Finish());
  if (!status.ok()) return Report(console, status, kAskAgain);
  console.out << (settings.json ? JsonLine(news.done())
                                : BackupPage(news.done()));
  return ExitCode::kDone;
}

}  // namespace

void AddBackup(CLI::App& app, Command& chosen) {
  app.add_subcommand("backup",
                     "have the service make a backup of everything, while it "
                     "goes on")
      ->callback([&chosen] { chosen = Online(&MakeBackup); });
}

}  // namespace turnstone::cli

#include "clients/cli/replay_events.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <system_error>

#include "clients/cli/progress.h"
#include "clients/cli/read_line.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/strict_json.h"
#include "rules/check/event_check.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

constexpr char kWhat[] = "replaying";

class FileReplay {
 public:
  FileReplay(const ReplaySides& sides, Replay& replay)
      : sides_(sides), replay_(replay) {}

  absl::Status Take(const std::string& line) {
    if (absl::StripAsciiWhitespace(line).empty()) return absl::OkStatus();
    const absl::StatusOr<v1::Event> event = ParseEventLine(line);
    if (!event.ok()) return event.status();
    if (event->site() != sides_.site) return absl::OkStatus();
    absl::Status good = Check(*event);
    if (!good.ok()) return good;
    if (!seen_.insert({event->source(), event->event_id()}).second) {
      return absl::OkStatus();
    }
    recorded_ = std::max(recorded_, FromProto(event->effective_time()));
    return replay_.Take(*event, recorded_);
  }

 private:
  // A form may be one that only the candidate knows.
  [[nodiscard]] absl::Status Check(const v1::Event& event) const {
    absl::Status before = CheckEventContent(event, sides_.before.catalogue(),
                                            absl::InfiniteFuture());
    if (before.ok()) return before;
    absl::Status after = CheckEventContent(event, sides_.after.catalogue(),
                                           absl::InfiniteFuture());
    return after.ok() ? after : before;
  }

  const ReplaySides& sides_;
  Replay& replay_;
  absl::Time recorded_ = absl::InfinitePast();
  std::set<EventKey> seen_;
};

}  // namespace

absl::StatusOr<int> ReplayFile(const Console& console, const std::string& path,
                               const ReplaySides& sides, Replay& replay) {
  std::ifstream file(path);
  std::error_code error;
  const auto size = std::filesystem::file_size(path, error);
  if (!file || error) {
    return absl::InvalidArgumentError(
        absl::StrCat("cannot read ", path,
                     "; write the name of a file with one event on each line"));
  }
  Progress progress(console, kWhat, static_cast<int64_t>(size));
  FileReplay taking(sides, replay);
  int number = 0;
  int refused = 0;
  int64_t read = 0;
  std::string line;
  while (ReadLine(file, line)) {
    ++number;
    read += static_cast<int64_t>(line.size()) + 1;
    const absl::Status taken = taking.Take(line);
    if (!taken.ok()) {
      ++refused;
      console.err << "line " << number
                  << " left out: " << CleanLine(std::string(taken.message()))
                  << "\n";
    }
    progress.Reach(read);
  }
  return refused;
}

absl::Status ReplayRecorded(const Console& console,
                            const Connection& connection,
                            const std::string& site, Replay& replay) {
  v1::ReadEventsRequest request;
  request.set_site(site);
  grpc::ClientContext context;
  connection.Prepare(context, absl::Hours(1));
  const auto stream = connection.rules->ReadEvents(&context, request);
  Progress progress(console, kWhat, 0);
  int64_t done = 0;
  v1::RecordedEvent recorded;
  while (stream->Read(&recorded)) {
    if (recorded.total() > 0) progress.SetTotal(recorded.total());
    // What cannot be read is counted by the replay itself.
    replay.Take(recorded.event(), FromProto(recorded.recorded_time()))
        .IgnoreError();
    progress.Reach(++done);
  }
  return FromGrpc(stream->Finish());
}

}  // namespace turnstone::cli

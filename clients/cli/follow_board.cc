#include "clients/cli/follow_board.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

#include "clients/cli/fetch.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/board.h"
#include "clients/cli/render/terminal_codes.h"
#include "clients/cli/render/time.h"

namespace turnstone::cli {
namespace {

// A call to follow lasts no longer: its end is when time left is drawn anew.
constexpr absl::Duration kRedraw = absl::Minutes(1);

class BoardFollower {
 public:
  BoardFollower(const Console& console, const Connection& connection,
                const std::string& site, Stopper& stopper)
      : console_(console), connection_(connection), stopper_(stopper) {
    request_.set_site(site);
  }

  ExitCode Run() {
    while (!Ended()) {
      absl::Status status = listed_ ? absl::OkStatus() : List();
      if (status.ok()) status = Draw();
      if (status.ok()) status = FollowAMinute();
      if (Ended()) break;
      if (status.ok() || absl::IsDeadlineExceeded(status)) {
        attempt_ = 1;
        continue;
      }
      if (ExitCodeFor(status) == ExitCode::kRefused &&
          !WorthRepeating(status)) {
        return Report(console_, status);
      }
      Show(
          "NO ANSWER from the service: what stands here may be old; trying "
          "again");
      console_.sleeper.Sleep(PauseBefore(++attempt_));
    }
    console_.out << "\n";
    return ExitCode::kDone;
  }

 private:
  absl::Status List() {
    v1::ListAlertsRequest request;
    request.set_site(request_.site());
    request.set_page_size(500);
    AskForOpen(request);
    auto list = FetchAlerts(connection_, std::move(request));
    if (!list.ok()) return list.status();
    for (const v1::Alert& alert : list->alerts) Take(alert);
    request_.set_after_position(list->position);
    now_ = list->now;
    listed_ = true;
    return absl::OkStatus();
  }

  // Returns why it ended; most often that the minute is over.
  absl::Status FollowAMinute() {
    grpc::ClientContext context;
    connection_.Prepare(context, kRedraw);
    const auto stream = connection_.alerts->FollowAlerts(&context, request_);
    stopper_.Watch(&context);
    v1::Alert alert;
    absl::Status drawn;
    while (!Ended() && drawn.ok() && stream->Read(&alert)) {
      request_.set_after_position(alert.position());
      attempt_ = 1;
      if (Take(alert)) drawn = Draw();
    }
    if (Ended() || !drawn.ok()) context.TryCancel();
    const absl::Status end = FromGrpc(stream->Finish());
    stopper_.Watch(nullptr);
    return drawn.ok() ? end : drawn;
  }

  // False if it changes nothing that is shown.
  bool Take(const v1::Alert& alert) {
    const auto before = open_.find(alert.alert_id());
    const bool known = before != open_.end();
    if (!IsOpen(alert)) {
      if (known) open_.erase(before);
      return known;
    }
    ring_ |= Rings(known ? &before->second : nullptr, alert);
    open_.insert_or_assign(alert.alert_id(), alert);
    return true;
  }

  absl::Status Draw() {
    const auto now = ServiceTime(connection_);
    if (!now.ok()) return now.status();
    now_ = *now;
    Show("");
    return absl::OkStatus();
  }

  void Show(const std::string& notice) {
    if (!listed_) {
      // An empty board would say that nothing is open.
      console_.out << kErase << "NO ANSWER from the service; trying again"
                   << std::flush;
      return;
    }
    std::vector<v1::Alert> alerts;
    alerts.reserve(open_.size());
    for (const auto& [id, alert] : open_) alerts.push_back(alert);
    console_.out << kErase
                 << Board(std::move(alerts), now_,
                          console_.window().value_or(Window()), notice)
                 << (std::exchange(ring_, false) ? "\a" : "") << std::flush;
  }

  // Also when nobody can see any more what is drawn.
  [[nodiscard]] bool Ended() { return stopper_.stopped() || !console_.out; }

  const Console& console_;
  const Connection& connection_;
  Stopper& stopper_;
  v1::FollowAlertsRequest request_;
  std::map<std::string, v1::Alert> open_;
  absl::Time now_ = absl::UnixEpoch();
  bool listed_ = false;
  bool ring_ = false;
  int attempt_ = 1;
};

}  // namespace

ExitCode FollowOnBoard(const Console& console, const Connection& connection,
                       const std::string& site, Stopper& stopper) {
  return BoardFollower(console, connection, site, stopper).Run();
}

}  // namespace turnstone::cli

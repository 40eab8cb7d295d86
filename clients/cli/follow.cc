#include <memory>
#include <optional>

#include "clients/cli/commands.h"
#include "clients/cli/follow_board.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/stop_on_signal.h"
#include "clients/cli/stopper.h"
#include "clients/cli/word_option.h"

namespace turnstone::cli {
namespace {

struct FollowOptions {
  v1::FollowAlertsRequest request;
  std::optional<int64_t> after;
  // Lines to print before the end; absent: no end.
  std::optional<int64_t> count;
  bool lines = false;
};

class Follower {
 public:
  Follower(const Console& console, bool json, FollowOptions options,
           Stopper& stopper)
      : console_(console),
        json_(json),
        request_(std::move(options.request)),
        left_(options.count),
        stopper_(stopper) {
    if (options.after.has_value()) request_.set_after_position(*options.after);
  }

  ExitCode Run(const Connection& connection) {
    while (true) {
      const absl::Status status = FollowOnce(connection);
      if (Ended()) break;
      if (ExitCodeFor(status) == ExitCode::kRefused &&
          !WorthRepeating(status)) {
        return Report(console_, status);
      }
      TellLost(status);
      console_.sleeper.Sleep(PauseBefore(++attempt_));
    }
    if (request_.has_after_position()) {
      console_.err << "to go on from here: turnstone follow --after "
                   << request_.after_position() << "\n";
    }
    return ExitCode::kDone;
  }

 private:
  absl::Status FollowOnce(const Connection& connection) {
    grpc::ClientContext context;
    // Even a line that is dead without saying so is noticed within a day.
    connection.Prepare(context, absl::Hours(24));
    const auto stream = connection.alerts->FollowAlerts(&context, request_);
    stopper_.Watch(&context);
    v1::Alert alert;
    while (!Ended() && stream->Read(&alert)) Tell(alert);
    if (Ended()) context.TryCancel();
    const grpc::Status end = stream->Finish();
    stopper_.Watch(nullptr);
    return FromGrpc(end);
  }

  void Tell(const v1::Alert& alert) {
    console_.out << (json_ ? JsonLine(alert) : AlertLine(alert) + "\n")
                 << std::flush;
    request_.set_after_position(alert.position());
    attempt_ = 1;
    if (left_.has_value()) --*left_;
  }

  void TellLost(const absl::Status& status) {
    console_.err << "turnstone: connection lost ("
                 << CleanLine(std::string(status.message()))
                 << "); trying again\n";
    if (!request_.has_after_position()) {
      console_.err << "Changes in between may not be shown; see turnstone "
                      "alerts.\n";
    }
  }

  // Also when nobody can read any more what is told.
  [[nodiscard]] bool Ended() {
    return stopper_.stopped() || !console_.out ||
           (left_.has_value() && *left_ <= 0);
  }

  const Console& console_;
  const bool json_;
  v1::FollowAlertsRequest request_;
  std::optional<int64_t> left_;
  int attempt_ = 1;
  Stopper& stopper_;
};

ExitCode Follow(const Console& console, const Settings& settings,
                const FollowOptions& options) {
  Stopper stopper;
  const StopOnSignal on_signal([&stopper, &console] {
    stopper.Stop();
    console.sleeper.Wake();
  });
  // What is read by a program, or asked for from a position on, is lines.
  const bool on_board = console.window().has_value() && !settings.json &&
                        !options.lines && !options.after && !options.count;
  return Online([&](const Console&, const Settings&, Connection& connection) {
    if (on_board) {
      return FollowOnBoard(console, connection, options.request.site(),
                           stopper);
    }
    return Follower(console, settings.json, options, stopper).Run(connection);
  })(console, settings);
}

}  // namespace

void AddFollow(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "follow",
      "open alerts as they change: a board on a terminal, else lines");
  auto options = std::make_shared<FollowOptions>();
  command->add_option("--site", *options->request.mutable_site(),
                      "only this site");
  command
      ->add_option("--after", options->after,
                   "go on after this position; 0 is the beginning; left out, "
                   "from now on")
      ->check(AtLeast(0));
  command->add_option("--count", options->count, "end after so many lines")
      ->check(AtLeast(1));
  command->add_flag("--lines", options->lines,
                    "a line for every change, also on a terminal; so too with "
                    "--after, --count and --json");
  command->callback([options, &chosen] {
    chosen = [options](const Console& console, const Settings& settings) {
      return Follow(console, settings, *options);
    };
  });
}

}  // namespace turnstone::cli

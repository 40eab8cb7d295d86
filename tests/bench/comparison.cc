#include "tests/bench/comparison.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <utility>

#include "tests/bench/process.h"
#include "tests/bench/progress.h"

namespace turnstone {
namespace {

// Kinds of cell, in the order in which they take turns.
constexpr const char* kDisk = "disk";
constexpr const char* kEchoUnary = "echo unary";
constexpr const char* kUnary = "turnstone unary";
constexpr const char* kFollowed = "turnstone unary, followed";
constexpr const char* kEchoStream = "echo stream";
constexpr const char* kStream = "turnstone stream";

using Post = std::function<Measured(const std::shared_ptr<grpc::Channel>&)>;

class Comparison {
 public:
  Comparison(const ComparisonPlan& plan, const Requests& requests,
             const WrittenRows& rows)
      : plan_(plan), requests_(requests), rows_(rows) {}

  nlohmann::ordered_json Run() {
    for (int repeat = 0; repeat < plan_.repeats; ++repeat) {
      for (size_t i = 0; i < plan_.callers.size(); ++i) {
        Progress(absl::StrCat("repeat ", repeat + 1, " of ", plan_.repeats,
                              ": ", plan_.callers[i], " callers"));
        Turn(plan_.callers[i], plan_.events[i]);
      }
    }
    nlohmann::ordered_json cells;
    for (const auto& [cell, repeats] : cells_) {
      nlohmann::ordered_json one = {{"what", cell.second},
                                    {"callers", cell.first}};
      one.update(Summary(repeats));
      cells.push_back(std::move(one));
    }
    return cells;
  }

 private:
  void Turn(int callers, size_t events) {
    const Requests some(
        requests_.begin(),
        requests_.begin() +
            static_cast<std::ptrdiff_t>(std::min(events, requests_.size())));
    const auto unary = [&](const std::shared_ptr<grpc::Channel>& channel) {
      return PostUnary(channel, some, callers);
    };
    const auto followed = [&](const std::shared_ptr<grpc::Channel>& channel) {
      return PostUnary(channel, some, callers, true);
    };
    const auto stream = [&](const std::shared_ptr<grpc::Channel>& channel) {
      return PostStreams(channel, some, callers);
    };
    Note(kDisk, callers, AtDisk(some.size(), static_cast<size_t>(callers)));
    Note(kEchoUnary, callers, AtEcho(unary));
    Note(kUnary, callers, AtTurnstone(unary));
    Note(kFollowed, callers, AtTurnstone(followed));
    Note(kEchoStream, callers, AtEcho(stream));
    Note(kStream, callers, AtTurnstone(stream));
  }

  // A name nobody has used.
  std::string Fresh() { return absl::StrCat(plan_.folder, "/", ++folders_); }

  // Ends the bench where a server did not do its work.
  void Note(const std::string& what, int callers, Measured measured) {
    if (measured.refused > 0 || measured.last_sequence != measured.events) {
      std::fprintf(stderr, "bench: %s: %lld refused, %lld of %lld done\n",
                   what.c_str(), static_cast<long long>(measured.refused),
                   static_cast<long long>(measured.last_sequence),
                   static_cast<long long>(measured.events));
      std::abort();
    }
    cells_[{callers, what}].push_back(std::move(measured));
  }

  static Measured At(ServerProcess& server, const Post& post) {
    const auto channel = server.Connect();
    const double cpu = server.CpuSeconds();
    Measured measured = post(channel);
    measured.server_cpu_seconds = server.CpuSeconds() - cpu;
    return measured;
  }
  Measured AtDisk(size_t events, size_t batch) {
    const std::string folder = Fresh();
    std::filesystem::create_directory(folder);
    Measured measured = rows_.WriteAgain(folder + "/floor.db", events, batch);
    std::filesystem::remove_all(folder);
    return measured;
  }
  Measured AtEcho(const Post& post) const {
    ServerProcess server({plan_.self, "--echo"});
    return At(server, post);
  }
  Measured AtTurnstone(const Post& post) {
    const std::string folder = Fresh();
    Measured measured = At(*StartTurnstone(plan_.program, folder), post);
    std::filesystem::remove_all(folder);
    return measured;
  }

  const ComparisonPlan& plan_;
  const Requests& requests_;
  const WrittenRows& rows_;
  std::map<std::pair<int, std::string>, std::vector<Measured>> cells_;
  int folders_ = 0;
};

}  // namespace

nlohmann::ordered_json CompareWithFloors(const ComparisonPlan& plan,
                                         const Requests& requests,
                                         const WrittenRows& rows) {
  return Comparison(plan, requests, rows).Run();
}

}  // namespace turnstone

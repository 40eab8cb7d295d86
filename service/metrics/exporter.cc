#include "service/metrics/exporter.h"

#include <absl/strings/str_cat.h>

#include <chrono>
#include <future>
#include <utility>

#include "service/metrics/families.h"

namespace turnstone {
namespace {

using prometheus::Histogram;
using prometheus::MetricFamily;

// Whoever fetches gives up about then, too.
constexpr std::chrono::seconds kWaitMax{5};

const Histogram::BucketBoundaries kSeconds = {0.0005, 0.001, 0.002, 0.005, 0.01,
                                              0.02,   0.05,  0.1,   0.5,   2};
const Histogram::BucketBoundaries kChanges = {1, 2, 4, 8, 16, 32, 64, 128, 256};

Histogram& AddHistogram(const std::string& name, const std::string& help,
                        const Histogram::BucketBoundaries& bounds,
                        prometheus::Registry& registry) {
  return prometheus::BuildHistogram()
      .Name(name)
      .Help(help)
      .Register(registry)
      .Add({}, bounds);
}

// Asks the commit thread each time: what it tells is of one moment.
class FiguresOfNow final : public prometheus::Collectable {
 public:
  FiguresOfNow(CommitThread& thread, std::string data)
      : thread_(thread), data_(std::move(data)) {}

  std::vector<MetricFamily> Collect() const override {
    const auto answer =
        std::make_shared<std::promise<absl::StatusOr<Figures>>>();
    std::future<absl::StatusOr<Figures>> figures = answer->get_future();
    const bool taken = thread_.PushRead(
        [answer](Core& core) { answer->set_value(core.GetFigures()); });
    if (!taken || figures.wait_for(kWaitMax) != std::future_status::ready) {
      return Families(absl::UnavailableError("busy"), data_);
    }
    return Families(figures.get(), data_);
  }

 private:
  CommitThread& thread_;
  const std::string data_;
};

}  // namespace

Exporter::Exporter(CommitThread& thread, std::string data)
    : registry_(std::make_shared<prometheus::Registry>()),
      commit_seconds_(AddHistogram(
          "turnstone_commit_seconds",
          "From the first change of a batch to all of it being on disk.",
          kSeconds, *registry_)),
      commit_changes_(AddHistogram("turnstone_commit_changes",
                                   "Changes in one commit.", kChanges,
                                   *registry_)),
      figures_(std::make_shared<FiguresOfNow>(thread, std::move(data))) {}

absl::StatusOr<int> Exporter::Listen(const std::string& address) {
  // The library throws; it goes no further than this.
  try {
    exposer_ = std::make_unique<prometheus::Exposer>(address, /*threads=*/1);
  } catch (const std::exception& error) {
    return absl::FailedPreconditionError(absl::StrCat(
        "cannot listen on ", address,
        " for metrics: another program has the port, or the "
        "address is not this machine's; choose another --metrics"));
  }
  exposer_->RegisterCollectable(registry_);
  exposer_->RegisterCollectable(figures_);
  return exposer_->GetListeningPorts().front();
}

void Exporter::Committed(size_t changes, absl::Duration took) {
  commit_seconds_.Observe(absl::ToDoubleSeconds(took));
  commit_changes_.Observe(static_cast<double>(changes));
}

}  // namespace turnstone

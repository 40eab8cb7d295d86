// How the service is doing, for a Prometheus server to fetch over HTTP. Names
// and meanings: service/metrics/families.cc. Nothing of any participant.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>
#include <absl/time/time.h>
#include <prometheus/collectable.h>
#include <prometheus/exposer.h>
#include <prometheus/histogram.h>
#include <prometheus/registry.h>

#include <memory>
#include <string>
#include <vector>

#include "service/core/commit_thread.h"

namespace turnstone {

// Thread-safe.
class Exporter {
 public:
  // `thread` outlives this; `data` is the folder of the store.
  Exporter(CommitThread& thread, std::string data);
  Exporter(const Exporter&) = delete;
  Exporter& operator=(const Exporter&) = delete;

  // The port, where `address` ends in port 0. FAILED_PRECONDITION if it cannot
  // be had.
  [[nodiscard]] absl::StatusOr<int> Listen(const std::string& address);
  void Committed(size_t changes, absl::Duration took);
  // Before the commit thread is stopped.
  void Stop() { exposer_.reset(); }

 private:
  std::shared_ptr<prometheus::Registry> registry_;
  prometheus::Histogram& commit_seconds_;
  prometheus::Histogram& commit_changes_;
  std::shared_ptr<prometheus::Collectable> figures_;
  std::unique_ptr<prometheus::Exposer> exposer_;
};

}  // namespace turnstone

// The running service, put together from its parts.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>
#include <grpcpp/server.h>

#include <memory>
#include <optional>

#include "platform/clock.h"
#include "service/checkpoints.h"
#include "service/core/change_hub.h"
#include "service/core/commit_thread.h"
#include "service/core/core.h"
#include "service/deliver/commit_thread_outlet.h"
#include "service/deliver/couriers.h"
#include "service/deliver/curl_transport.h"
#include "service/metrics/exporter.h"
#include "service/options.h"
#include "service/rpc/limits.h"
#include "service/rpc/operations_service.h"
#include "service/rpc/rule_service.h"
#include "service/rpc/services.h"
#include "service/store/disk_space.h"

namespace turnstone {

// Thread-compatible; main() owns it.
class Server {
 public:
  // Opens the store and the port, recovers, and serves. The order matters: the
  // port answers NOT_SERVING until everything is recovered. Errors: what
  // OpenSqliteStore and Core::Start return; FAILED_PRECONDITION if the port is
  // taken.
  [[nodiscard]] static absl::StatusOr<std::unique_ptr<Server>> Open(
      const ServerOptions& options);
  ~Server();

  // Reads the configuration again. With an error in it, the last good one
  // stays.
  void Reload();
  // Stops taking calls, answers what was taken, closes the store.
  void Stop();
  [[nodiscard]] int port() const { return port_; }

 private:
  Server(const ServerOptions& options, std::unique_ptr<DiskSpace> space,
         std::unique_ptr<Store> store, std::unique_ptr<Clock> clock,
         SimulatedClock* simulated);
  [[nodiscard]] absl::Status Listen();
  // `first_start`: nothing is on record yet.
  [[nodiscard]] absl::Status Recover(bool first_start);
  // What the commit thread is to tell the log and the health check.
  void ListenToCore();
  // `alerts`: they can be worked and escalated. `events`: new ones are taken.
  void SetServing(bool alerts, bool events);
  // Nothing is served any more, whatever SetServing says later.
  void StopServing();

  const ServerOptions options_;
  const std::unique_ptr<DiskSpace> space_;
  std::unique_ptr<Clock> clock_;
  ChangeHub hub_;
  Core core_;
  // Of those who really call, whatever clock the rules go by.
  SystemClock callers_clock_;
  Limits limits_{callers_clock_};
  CommitThread thread_;
  EventServiceImpl events_;
  AlertServiceImpl alerts_;
  ParticipantServiceImpl participants_;
  DutyServiceImpl duties_;
  ClockServiceImpl clock_service_;
  RuleServiceImpl rules_;
  AuditServiceImpl audit_;
  OperationsServiceImpl operations_;
  CommitThreadOutlet outlet_;
  CurlTransport transport_;
  Couriers couriers_;
  std::unique_ptr<Checkpoints> checkpoints_;  // null: none are written
  Exporter exporter_;
  std::unique_ptr<grpc::Server> server_;
  int port_ = 0;
};

}  // namespace turnstone

#include "service/server.h"

#include <absl/strings/str_cat.h>
#include <grpcpp/ext/proto_server_reflection_plugin.h>
#include <grpcpp/health_check_service_interface.h>
#include <grpcpp/server_builder.h>

#include <chrono>
#include <map>
#include <utility>
#include <vector>

#include "platform/files.h"
#include "platform/log.h"
#include "rules/check/load.h"
#include "service/core/configuration.h"
#include "service/proof.h"
#include "service/rpc/access.h"
#include "service/rpc/connection_limits.h"
#include "service/store/sqlite_store.h"

namespace turnstone {
namespace {

constexpr std::chrono::seconds kStopGrace{5};

// Absent, with every finding logged, if the files are not fit to be used.
std::optional<v1::Configuration> ReadConfiguration(
    const std::vector<std::string>& folders) {
  std::map<std::string, std::string> files;
  for (const std::string& folder : folders) {
    absl::StatusOr<std::map<std::string, std::string>> some =
        ReadTextprotos(folder);
    if (!some.ok()) {
      Log(LogLevel::kError, "configuration unreadable",
          {{"why", std::string(some.status().message())}});
      return std::nullopt;
    }
    files.merge(*some);
  }
  LoadResult result =
      LoadConfiguration(files, {.complete = true, .review = true});
  for (const Finding& finding : result.findings) {
    Log(LogLevel::kError, "configuration refused",
        {{"finding", finding.ToString()}});
  }
  return std::move(result.configuration);
}

void LogDue(const Core::DueReport& report) {
  Log(LogLevel::kInfo, "time came",
      {{"participants", absl::StrCat(report.participants)},
       {"alerts_raised", absl::StrCat(report.alerts_raised)},
       {"people_told", absl::StrCat(report.tellings)},
       {"late_seconds_max",
        absl::StrCat(absl::ToInt64Seconds(report.latest))}});
}

void LogOffered(Core::Offered offered, const std::string& digest) {
  if (offered == Core::Offered::kProposed) {
    Log(LogLevel::kInfo, "a version of the rules is proposed, not in force",
        {{"configuration", digest},
         {"what to do", "look it over, then turnstone rules activate"}});
  } else {
    Log(LogLevel::kInfo, "configuration in force", {{"configuration", digest}});
  }
}

void LogConcerns(Core& core) {
  for (const std::string& concern : core.Concerns()) {
    Log(LogLevel::kError, "to be seen to", {{"concern", concern}});
  }
}

void LogRoom(Room room) {
  switch (room) {
    case Room::kEnough:
      Log(LogLevel::kInfo, "enough disk space again, events are accepted", {});
      return;
    case Room::kShort:
      Log(LogLevel::kError, "short of disk space, new events are refused",
          {{"what goes on", "work on alerts, their ladders, messages"},
           {"what to do", "free space where the service keeps its data"}});
      return;
    case Room::kNone:
      Log(LogLevel::kError, "the disk is full, nothing can be recorded",
          {{"what goes on", "sending what was owed already; trying again"},
           {"what to do",
            "free space where the service keeps its data, at once; no restart "
            "is needed"}});
  }
}

void LogClock(const Core::ClockNews& news) {
  Log(LogLevel::kError, "the machine's clock is not right, or was not",
      {{"behind_seconds", absl::StrCat(absl::ToInt64Seconds(news.behind))},
       {"set_ahead_seconds", absl::StrCat(absl::ToInt64Seconds(news.jump))},
       {"what to do", "set it right and keep it right, e.g. by NTP"}});
}

absl::StatusOr<std::shared_ptr<grpc::ServerCredentials>> WayIn(
    const ServerOptions& options) {
  if (!options.plain) return EncryptedWayIn(options.tls);
  Log(LogLevel::kError, "plain mode: nothing is encrypted or proven",
      {{"who may call", "everybody on this machine, as whoever they say"},
       {"what to do",
        "use it to try things out; for real participants give --certificate "
        "and --client-ca"}});
  return grpc::InsecureServerCredentials();
}

// Where the disk is full, the reserve is there for this, too: after a crash
// the log is to be copied before anything else.
absl::StatusOr<std::unique_ptr<Store>> OpenStore(const std::string& folder,
                                                 DiskSpace& space) {
  absl::StatusOr<std::unique_ptr<Store>> store = OpenSqliteStore(folder);
  if (!absl::IsResourceExhausted(store.status())) return store;
  space.Release();
  return OpenSqliteStore(folder);
}

}  // namespace

absl::StatusOr<std::unique_ptr<Server>> Server::Open(
    const ServerOptions& options) {
  auto space = std::make_unique<FolderSpace>(options.data);
  absl::StatusOr<std::unique_ptr<Store>> store =
      OpenStore(options.data, *space);
  if (!store.ok()) return store.status();
  const absl::StatusOr<Recovered> recovered = (*store)->Recover();
  if (!recovered.ok()) return recovered.status();
  std::unique_ptr<Clock> clock = std::make_unique<SystemClock>();
  SimulatedClock* simulated = nullptr;
  if (options.simulated_clock) {
    auto owned = std::make_unique<SimulatedClock>(
        options.start.value_or(absl::UnixEpoch()));
    simulated = owned.get();
    clock = std::move(owned);
    if (recovered->last_now > absl::UnixEpoch()) {
      simulated->MoveTo(recovered->last_now);
    } else if (!options.start) {
      return absl::InvalidArgumentError(
          "a new store with a simulated clock needs --start, e.g. --start "
          "2027-01-04T08:00:00Z");
    }
  }
  std::unique_ptr<Server> server(new Server(options, std::move(space),
                                            *std::move(store), std::move(clock),
                                            simulated));
  if (absl::Status status = server->Listen(); !status.ok()) return status;
  absl::Status status = server->Recover(!recovered->configuration.has_value());
  if (!status.ok()) return status;
  return server;
}

Server::Server(const ServerOptions& options, std::unique_ptr<DiskSpace> space,
               std::unique_ptr<Store> store, std::unique_ptr<Clock> clock,
               SimulatedClock* simulated)
    : options_(options),
      space_(std::move(space)),
      clock_(std::move(clock)),
      core_(std::move(store), *clock_, {.space = space_.get()}),
      thread_(core_, hub_, {}),
      events_({thread_, limits_}),
      alerts_({thread_, limits_}, hub_),
      participants_({thread_, limits_}),
      duties_({thread_, limits_}, options.send),
      clock_service_({thread_, limits_}, simulated),
      rules_({thread_, limits_}, &ProofOf),
      audit_({thread_, limits_}),
      operations_({thread_, limits_}, options.backups),
      outlet_(thread_),
      transport_(Credentials(options.credentials)),
      couriers_(outlet_, hub_, transport_),
      exporter_(thread_, options.data) {}

Server::~Server() { Stop(); }

absl::Status Server::Listen() {
  absl::Status table =
      CheckAccessTable(*v1::SubmitRequest::descriptor()->file());
  if (!table.ok()) return table;
  const auto way_in = WayIn(options_);
  if (!way_in.ok()) return way_in.status();
  grpc::EnableDefaultHealthCheckService(true);
  grpc::reflection::InitProtoReflectionServerBuilderPlugin();
  grpc::ServerBuilder builder;
  builder.AddListeningPort(options_.listen, *way_in, &port_);
  // With port sharing a second server would silently take half the calls.
  builder.AddChannelArgument(GRPC_ARG_ALLOW_REUSEPORT, 0);
  LimitConnections(builder);
  builder.RegisterService(&events_);
  builder.RegisterService(&alerts_);
  builder.RegisterService(&participants_);
  builder.RegisterService(&duties_);
  builder.RegisterService(&clock_service_);
  builder.RegisterService(&rules_);
  builder.RegisterService(&audit_);
  builder.RegisterService(&operations_);
  server_ = builder.BuildAndStart();
  if (server_ == nullptr || port_ == 0) {
    return absl::FailedPreconditionError(absl::StrCat(
        "cannot listen on ", options_.listen,
        ": another program has the port, "
        "or the address is not this machine's; choose another --listen"));
  }
  SetServing(false, false);
  return absl::OkStatus();
}

absl::Status Server::Recover(bool first_start) {
  const auto configuration = ReadConfiguration(options_.config);
  // Later ones are proved when somebody puts them in force.
  if (first_start && configuration && !options_.simulated_clock) {
    absl::Status proved = ProofOf(*configuration, clock_->Now()).status();
    if (!proved.ok()) return proved;
  }
  const absl::StatusOr<Core::StartReport> report = core_.Start(configuration);
  if (!report.ok()) return report.status();
  if (!options_.simulated_clock) {
    absl::Status ready = CheckReadyForPeople(core_.configuration());
    if (!ready.ok()) return ready;
  }
  if (report->used_last_good) {
    Log(LogLevel::kError, "the last good configuration is in force",
        {{"refused", report->refused},
         {"what to do", "mend the findings above, then send SIGHUP"}});
  }
  LogConcerns(core_);
  auto checkpoints =
      Checkpoints::Open(options_.checkpoints, options_.credentials);
  if (!checkpoints.ok()) return checkpoints.status();
  checkpoints_ = *std::move(checkpoints);
  ListenToCore();
  SetServing(true, core_.room() == Room::kEnough);
  int metrics_port = 0;
  if (!options_.metrics.empty()) {
    const absl::StatusOr<int> port = exporter_.Listen(options_.metrics);
    if (!port.ok()) return port.status();
    metrics_port = *port;
  }
  thread_.Start();
  if (options_.send) couriers_.Start();
  Log(LogLevel::kInfo, "serving",
      {{"port", absl::StrCat(port_)},
       {"events", absl::StrCat(report->events)},
       {"configuration", DigestOf(core_.configuration())},
       {"metrics_port", absl::StrCat(metrics_port)},
       {"clock", options_.simulated_clock ? "simulated" : "system"}});
  return absl::OkStatus();
}

void Server::ListenToCore() {
  thread_.OnDue(&LogDue);
  thread_.OnCommit([this](size_t changes, absl::Duration took) {
    exporter_.Committed(changes, took);
  });
  thread_.OnClock(&LogClock);
  if (checkpoints_ != nullptr) {
    thread_.OnRound([this](Core& core) { checkpoints_->Look(core); });
  }
  thread_.OnRoom([this](Room room) {
    SetServing(room != Room::kNone, room == Room::kEnough);
    LogRoom(room);
  });
  thread_.OnBroken([this] {
    StopServing();
    Log(LogLevel::kError,
        "the store could not be written or read; nothing is accepted any more",
        {{"what to do",
          "check the disk and the configuration, then restart the service"}});
  });
}

void Server::SetServing(bool alerts, bool events) {
  grpc::HealthCheckServiceInterface& health = *server_->GetHealthCheckService();
  health.SetServingStatus("", alerts);
  health.SetServingStatus(v1::EventService::service_full_name(), events);
}

void Server::StopServing() { server_->GetHealthCheckService()->Shutdown(); }

void Server::Reload() {
  const auto configuration = ReadConfiguration(options_.config);
  if (!configuration) {
    Log(LogLevel::kError, "configuration not changed",
        {{"what to do", "mend the findings above, then send SIGHUP"}});
    return;
  }
  const bool taken = thread_.PushRead([this, configuration](Core& core) {
    const absl::Status ready = options_.simulated_clock
                                   ? absl::OkStatus()
                                   : CheckReadyForPeople(*configuration);
    const absl::StatusOr<Core::Offered> offered =
        ready.ok() ? core.Offer(*configuration) : ready;
    if (!offered.ok()) {
      Log(LogLevel::kError, "configuration not changed",
          {{"why", std::string(offered.status().message())}});
      return;
    }
    LogOffered(*offered, DigestOf(*configuration));
    LogConcerns(core);
  });
  if (!taken) {
    Log(LogLevel::kError, "configuration not changed",
        {{"why", "the service is busy; send SIGHUP again"}});
  }
}

void Server::Stop() {
  if (server_ == nullptr) return;
  StopServing();
  hub_.Close();
  server_->Shutdown(std::chrono::system_clock::now() + kStopGrace);
  couriers_.Stop();
  participants_.Stop();
  rules_.Stop();
  operations_.Stop();
  exporter_.Stop();
  thread_.Stop();
  if (checkpoints_ != nullptr) {
    checkpoints_->Look(core_, /*now=*/true);
    checkpoints_->Stop();
  }
  server_.reset();
  Log(LogLevel::kInfo, "stopped", {});
}

}  // namespace turnstone

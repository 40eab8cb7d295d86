// The way to the service: who calls, and a deadline on every call.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>
#include <grpcpp/grpcpp.h>

#include <memory>
#include <string>

#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone::cli {

struct Caller {
  std::string name;
  std::string role;
};

// From "NAME,ROLE"; which roles there are is for the service to say.
// INVALID_ARGUMENT saying what to write.
[[nodiscard]] absl::StatusOr<Caller> ParseCaller(const std::string& as);

// How the service is reached.
struct WayOut {
  // No encryption; only on this machine.
  bool plain = false;
  // Paths of PEM files.
  std::string ca;
  std::string certificate;
  std::string key;
};

// The same status in the words of absl; the codes have the same numbers.
[[nodiscard]] absl::Status FromGrpc(const grpc::Status& status);

class Connection {
 public:
  // Looks for the service for up to a second; that it is not there is for the
  // first call to say. INVALID_ARGUMENT if `as` is not a caller, a file of
  // `way` cannot be read, or `server` is not on this machine and nothing is
  // encrypted.
  [[nodiscard]] static absl::StatusOr<Connection> Open(
      const std::string& server, const std::string& as, const WayOut& way);

  // Makes `context` ready for one call.
  void Prepare(grpc::ClientContext& context, absl::Duration deadline) const;

  // One call with one answer: connection.Call(stub, &Stub::Method, request).
  template <typename Stub, typename Request, typename Response>
  [[nodiscard]] absl::StatusOr<Response> Call(
      Stub& stub,
      grpc::Status (Stub::*method)(grpc::ClientContext*, const Request&,
                                   Response*),
      const Request& request,
      absl::Duration deadline = absl::Seconds(30)) const {
    grpc::ClientContext context;
    Prepare(context, deadline);
    Response response;
    const grpc::Status status = (stub.*method)(&context, request, &response);
    if (!status.ok()) return FromGrpc(status);
    return response;
  }

  std::unique_ptr<v1::EventService::Stub> events;
  std::unique_ptr<v1::AlertService::Stub> alerts;
  std::unique_ptr<v1::ParticipantService::Stub> participants;
  std::unique_ptr<v1::DutyService::Stub> duty;
  std::unique_ptr<v1::ClockService::Stub> clock;
  std::unique_ptr<v1::RuleService::Stub> rules;
  std::unique_ptr<v1::OperationsService::Stub> operations;
  std::unique_ptr<v1::AuditService::Stub> audit;

 private:
  Connection(const std::shared_ptr<grpc::Channel>& channel, Caller caller);

  Caller caller_;
};

}  // namespace turnstone::cli

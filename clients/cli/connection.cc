#include "clients/cli/connection.h"

#include <absl/strings/ascii.h>
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <utility>
#include <vector>

namespace turnstone::cli {
namespace {

constexpr size_t kLongestName = 100;

// How long to go on looking for a service that does not answer at once.
constexpr absl::Duration kLookAgain = absl::Seconds(1);

// A page of alerts with long histories outgrows gRPC's own limit of 4 MiB.
constexpr int kLargestMessage = 64 << 20;

bool IsName(const std::string& text) {
  return !text.empty() && text.size() <= kLongestName && text.front() != ' ' &&
         text.back() != ' ' &&
         std::all_of(text.begin(), text.end(),
                     [](char c) { return c >= ' ' && c < '\x7f'; });
}

bool IsRole(const std::string& text) {
  return !text.empty() && text.size() <= kLongestName &&
         std::all_of(text.begin(), text.end(), [](char c) {
           return absl::ascii_islower(static_cast<unsigned char>(c)) ||
                  absl::ascii_isdigit(static_cast<unsigned char>(c)) ||
                  c == '-';
         });
}

bool OnThisMachine(const std::string& server) {
  return absl::StartsWith(server, "127.") ||
         absl::StartsWith(server, "localhost:") ||
         absl::StartsWith(server, "[::1]:") ||
         absl::StartsWith(server, "unix:");
}

}  // namespace

absl::StatusOr<Caller> ParseCaller(const std::string& as) {
  const std::vector<std::string> parts = absl::StrSplit(as, ',');
  if (parts.size() == 2 && IsName(parts[0]) && IsRole(parts[1])) {
    return Caller{parts[0], parts[1]};
  }
  return absl::InvalidArgumentError(absl::StrCat(
      as.empty() ? "who is calling is not stated"
                 : "--as does not hold a name and a role",
      ";\nwrite --as \"NAME,ROLE\", for example --as \"r.sorrel,clinician\", "
      "or set TURNSTONE_AS\nto the same. The name has at most 100 plain "
      "characters; the role is one of your site's:\nlower-case letters, digits "
      "and hyphens, at most 100"));
}

absl::Status FromGrpc(const grpc::Status& status) {
  return {static_cast<absl::StatusCode>(status.error_code()),
          status.error_message()};
}

absl::StatusOr<Connection> Connection::Open(const std::string& server,
                                            const std::string& as) {
  absl::StatusOr<Caller> caller = ParseCaller(as);
  if (!caller.ok()) return caller.status();
  if (!OnThisMachine(server)) {
    return absl::InvalidArgumentError(
        "nothing is encrypted on the way, so the service must be on this "
        "machine;\nwrite --server 127.0.0.1:PORT");
  }
  grpc::ChannelArguments arguments;
  arguments.SetMaxReceiveMessageSize(kLargestMessage);
  arguments.SetInt(GRPC_ARG_ENABLE_HTTP_PROXY, 0);
  // Left alone, gRPC would wait up to two minutes before it looks again.
  arguments.SetInt(GRPC_ARG_INITIAL_RECONNECT_BACKOFF_MS, 100);
  arguments.SetInt(GRPC_ARG_MAX_RECONNECT_BACKOFF_MS, 1000);
  const std::shared_ptr<grpc::Channel> channel = grpc::CreateCustomChannel(
      server, grpc::InsecureChannelCredentials(), arguments);
  // A first try can fail by mischance on a busy machine. Whether anybody is
  // there is for the call itself to say.
  (void)channel->WaitForConnected(absl::ToChronoTime(absl::Now() + kLookAgain));
  return Connection(channel, *std::move(caller));
}

Connection::Connection(const std::shared_ptr<grpc::Channel>& channel,
                       Caller caller)
    : events(v1::EventService::NewStub(channel)),
      alerts(v1::AlertService::NewStub(channel)),
      participants(v1::ParticipantService::NewStub(channel)),
      duty(v1::DutyService::NewStub(channel)),
      clock(v1::ClockService::NewStub(channel)),
      rules(v1::RuleService::NewStub(channel)),
      operations(v1::OperationsService::NewStub(channel)),
      audit(v1::AuditService::NewStub(channel)),
      caller_(std::move(caller)) {}

void Connection::Prepare(grpc::ClientContext& context,
                         absl::Duration deadline) const {
  context.AddMetadata("turnstone-name", caller_.name);
  context.AddMetadata("turnstone-role", caller_.role);
  context.set_deadline(absl::ToChronoTime(absl::Now() + deadline));
}

}  // namespace turnstone::cli

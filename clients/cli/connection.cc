#include "clients/cli/connection.h"

#include <absl/strings/ascii.h>
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>
#include <grpcpp/security/tls_certificate_provider.h>
#include <grpcpp/security/tls_credentials_options.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "platform/files.h"

namespace turnstone::cli {
namespace {

constexpr size_t kLongestName = 100;

// How long to go on looking for a service that does not answer at once.
constexpr absl::Duration kLookAgain = absl::Seconds(1);

constexpr unsigned int kLookAtFilesSeconds = 10;

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

using Credentials = std::shared_ptr<grpc::ChannelCredentials>;

absl::StatusOr<Credentials> CredentialsFor(const std::string& server,
                                           const WayOut& way) {
  if (way.plain) {
    if (OnThisMachine(server)) return grpc::InsecureChannelCredentials();
    return absl::InvalidArgumentError(
        "with --plain nothing is encrypted on the way, so the service must be "
        "on this machine;\nwrite --server 127.0.0.1:PORT");
  }
  if (way.ca.empty() || way.certificate.empty()) {
    return absl::InvalidArgumentError(
        "how to reach the service is not stated;\nwrite --ca and "
        "--certificate, or set TURNSTONE_CA and "
        "TURNSTONE_CERTIFICATE; for a service on this\nmachine that runs with "
        "--plain, write --plain");
  }
  const std::string& key = way.key.empty() ? way.certificate : way.key;
  for (const std::string& path : {way.ca, way.certificate, key}) {
    // gRPC would wait for it in silence.
    const absl::StatusOr<std::string> content = ReadFile(path);
    if (!content.ok()) {
      return absl::InvalidArgumentError(content.status().message());
    }
  }
  const auto provider =
      std::make_shared<grpc::experimental::FileWatcherCertificateProvider>(
          key, way.certificate, way.ca, kLookAtFilesSeconds);
  grpc::experimental::TlsChannelCredentialsOptions options;
  options.set_certificate_provider(provider);
  options.watch_root_certs();
  options.watch_identity_key_cert_pairs();
  return grpc::experimental::TlsCredentials(options);
}

absl::StatusOr<Caller> CallerFor(const std::string& as, const WayOut& way) {
  if (!way.plain && as.empty()) return Caller();
  return ParseCaller(as);
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
                                            const std::string& as,
                                            const WayOut& way) {
  absl::StatusOr<Caller> caller = CallerFor(as, way);
  if (!caller.ok()) return caller.status();
  const absl::StatusOr<Credentials> credentials = CredentialsFor(server, way);
  if (!credentials.ok()) return credentials.status();
  grpc::ChannelArguments arguments;
  arguments.SetMaxReceiveMessageSize(kLargestMessage);
  arguments.SetInt(GRPC_ARG_ENABLE_HTTP_PROXY, 0);
  // Left alone, gRPC would wait up to two minutes before it looks again.
  arguments.SetInt(GRPC_ARG_INITIAL_RECONNECT_BACKOFF_MS, 100);
  arguments.SetInt(GRPC_ARG_MAX_RECONNECT_BACKOFF_MS, 1000);
  const std::shared_ptr<grpc::Channel> channel =
      grpc::CreateCustomChannel(server, *credentials, arguments);
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
  if (!caller_.role.empty()) {
    context.AddMetadata("turnstone-name", caller_.name);
    context.AddMetadata("turnstone-role", caller_.role);
  }
  context.set_deadline(absl::ToChronoTime(absl::Now() + deadline));
}

}  // namespace turnstone::cli

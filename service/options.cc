#include "service/options.h"

#include <absl/strings/str_cat.h>

#include <CLI/CLI.hpp>

namespace turnstone {
namespace {

void AddWayIn(CLI::App& app, ServerOptions& options) {
  app.add_option("--certificate", options.tls.certificate,
                 "PEM file with the service's certificate and those above it; "
                 "this and the next two are read again when they change");
  app.add_option("--key", options.tls.key,
                 "PEM file with its private key; if not given, that is in "
                 "--certificate, and both can be replaced at once");
  app.add_option("--client-ca", options.tls.client_ca,
                 "PEM file with the certificates of those who issue callers' "
                 "certificates; without one nobody can call");
  app.add_flag("--plain", options.plain,
               "on the loopback interface only: no encryption, and callers are "
               "believed who they say they are");
}

absl::Status CheckWayIn(const ServerOptions& options) {
  const TlsFiles& tls = options.tls;
  const bool all = !tls.certificate.empty() && !tls.client_ca.empty();
  const bool none =
      tls.certificate.empty() && tls.key.empty() && tls.client_ca.empty();
  if (options.plain && none) return CheckLoopback("--listen", options.listen);
  if (!options.plain && all) return absl::OkStatus();
  return absl::InvalidArgumentError(
      "give --certificate and --client-ca, by which both sides prove who they "
      "are; or, to try things out on this machine, --plain alone");
}

absl::Status CheckTogether(const ServerOptions& options,
                           const std::string& start) {
  if (!start.empty() && !options.simulated_clock) {
    return absl::InvalidArgumentError(
        "--start goes with --clock simulated only");
  }
  absl::Status status = CheckWayIn(options);
  if (status.ok() && !options.metrics.empty()) {
    status = CheckLoopback("--metrics", options.metrics);
  }
  return status;
}

}  // namespace

absl::Status CheckLoopback(const std::string& option,
                           const std::string& address) {
  const std::string host = address.substr(0, address.rfind(':'));
  // "127.example.org" is a name like any other.
  const bool numbers_only =
      host.find_first_not_of("0123456789.") == std::string::npos;
  if (host == "localhost" || host == "[::1]" ||
      (numbers_only && host.rfind("127.", 0) == 0)) {
    return absl::OkStatus();
  }
  return absl::InvalidArgumentError(
      absl::StrCat(option, " ", address,
                   ": only the loopback interface is allowed where "
                   "nothing is encrypted; write 127.0.0.1:PORT"));
}

absl::StatusOr<ServerOptions> ParseOptions(int argc, const char** argv) {
  ServerOptions options;
  std::string clock = "system";
  std::string start;
  CLI::App app(
      "turnstoned: takes events in, applies the rules, keeps the alerts.\n"
      "A prompt for clinical judgement, not a diagnosis and not an emergency "
      "service.\n"
      "While it is not running: turnstoned verify looks over its data, "
      "turnstoned restore puts a backup back.");
  app.add_option("--config", options.config,
                 "folders with instruments/, packs/ and sites/, taken "
                 "together; SIGHUP reads them again")
      ->required();
  app.add_option("--data", options.data,
                 "folder for the store; made if missing, readable by this user "
                 "only")
      ->required();
  app.add_option("--listen", options.listen, "ADDRESS:PORT; port 0 picks one")
      ->capture_default_str();
  AddWayIn(app, options);
  app.add_option("--clock", clock, "system or simulated")
      ->check(CLI::IsMember({"system", "simulated"}))
      ->capture_default_str();
  app.add_option("--start", start,
                 "where a simulated clock begins, e.g. 2027-01-04T08:00:00Z");
  app.add_option("--credentials", options.credentials,
                 "folder with the files that channels name: passwords, "
                 "secrets, certificates")
      ->envname("CREDENTIALS_DIRECTORY");
  app.add_option("--backups", options.backups,
                 "folder for the backups that turnstone backup asks for, on "
                 "another disk than --data; made if missing");
  app.add_option("--checkpoints", options.checkpoints,
                 "folder for signed checkpoints of the audit, to be copied "
                 "elsewhere; made if missing; the key is "
                 "audit-checkpoint-key.pem in the credentials folder");
  app.add_option("--metrics", options.metrics,
                 "ADDRESS:PORT where a Prometheus server may fetch how the "
                 "service is doing; nothing of any participant");
  bool send = false;
  app.add_flag("--send", send,
               "with a simulated clock: really send messages (with the "
               "system's clock they always are)");
  // CLI11 throws; it goes no further than this.
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    return absl::OutOfRangeError(app.help());
  } catch (const CLI::ParseError& error) {
    return absl::InvalidArgumentError(
        absl::StrCat(error.what(), "; see turnstoned --help"));
  }
  if (options.tls.key.empty()) options.tls.key = options.tls.certificate;
  options.simulated_clock = clock == "simulated";
  options.send = send || !options.simulated_clock;
  if (!start.empty()) {
    absl::Time time;
    std::string why;
    if (!absl::ParseTime(absl::RFC3339_full, start, &time, &why)) {
      return absl::InvalidArgumentError(absl::StrCat(
          "--start ", start, ": write a time like 2027-01-04T08:00:00Z"));
    }
    options.start = time;
  }
  if (absl::Status status = CheckTogether(options, start); !status.ok()) {
    return status;
  }
  return options;
}

}  // namespace turnstone

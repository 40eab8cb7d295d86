#include <absl/strings/str_cat.h>

#include <memory>
#include <regex>
#include <string>

#include "clients/cli/commands.h"
#include "clients/cli/duration.h"
#include "clients/cli/json_line.h"
#include "clients/cli/render/burden_page.h"
#include "clients/cli/render/time.h"
#include "clients/cli/when.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

constexpr absl::Duration kUsualWindow = absl::Hours(30 * 24);

struct BurdenOptions {
  std::string site;
  std::string from;
  std::string to;
};

// What the site's clocks are, and what time it is by the service.
struct TimeThere {
  absl::TimeZone zone;
  absl::Time now;
};

absl::StatusOr<TimeThere> AskTime(const Connection& connection,
                                  const std::string& site) {
  v1::GetOnCallRequest request;
  request.set_site(site);
  const auto on_call = connection.Call(
      *connection.duty, &v1::DutyService::Stub::GetOnCall, request);
  if (!on_call.ok()) return on_call.status();
  return TimeThere{Zone(on_call->time_zone()), FromProto(on_call->at())};
}

// A length of time is one before now; a day alone is its beginning.
absl::StatusOr<absl::Time> ParseEdge(const std::string& option,
                                     const std::string& text,
                                     const TimeThere& there) {
  static const std::regex day(R"(\d{4}-\d{2}-\d{2})");
  static const std::regex moment(R"(\d{4}-\d{2}-\d{2}[ T].*)");
  if (std::regex_match(text, moment)) {
    return ParseWhen(option, text, there.now, there.zone);
  }
  if (std::regex_match(text, day)) {
    return ParseWhen(option, text + " 00:00", there.now, there.zone);
  }
  const auto ago = ParseDuration(text);
  if (ago.ok()) return there.now - *ago;
  return absl::InvalidArgumentError(absl::StrCat(
      option,
      " is not a time;\nwrite a day such as 2027-02-06, a moment such as\n"
      "2027-02-06T09:00:00Z, or how long ago, such as 30d"));
}

absl::StatusOr<v1::GetBurdenRequest> RequestFor(const BurdenOptions& options,
                                                const TimeThere& there) {
  // What came up this very second counts.
  const auto to = options.to.empty() ? there.now + absl::Seconds(1)
                                     : ParseEdge("--to", options.to, there);
  if (!to.ok()) return to.status();
  const auto from = options.from.empty()
                        ? *to - kUsualWindow
                        : ParseEdge("--from", options.from, there);
  if (!from.ok()) return from.status();
  if (*from >= *to) {
    return absl::InvalidArgumentError(
        absl::StrCat("--from is not before ",
                     options.to.empty() ? "now, the end of the time" : "--to",
                     ";\nwrite an earlier one, such as 30d"));
  }
  v1::GetBurdenRequest request;
  request.set_site(options.site);
  *request.mutable_from() = ToProto(*from);
  *request.mutable_to() = ToProto(*to);
  return request;
}

ExitCode ShowBurden(const Console& console, const Settings& settings,
                    const Connection& connection,
                    const BurdenOptions& options) {
  const auto there = AskTime(connection, options.site);
  if (!there.ok()) return Report(console, there.status());
  const auto request = RequestFor(options, *there);
  if (!request.ok()) return ReportUsage(console, request.status());
  const auto burden = connection.Call(
      *connection.duty, &v1::DutyService::Stub::GetBurden, *request);
  if (!burden.ok()) return Report(console, burden.status());
  console.out << (settings.json ? JsonLine(*burden) : BurdenPage(*burden));
  return ExitCode::kDone;
}

}  // namespace

void AddBurden(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "burden", "what alerts asked of people: how many, how long, of whom");
  auto options = std::make_shared<BurdenOptions>();
  command->add_option("--site", options->site,
                      "needed where the service has more than one");
  command->add_option("--from", options->from,
                      "a day, a moment, or how long ago; by default 30 days "
                      "before --to");
  command->add_option("--to", options->to, "the same; by default now");
  command->callback([options, &chosen] {
    chosen = Online([options](const Console& console, const Settings& settings,
                              const Connection& connection) {
      return ShowBurden(console, settings, connection, *options);
    });
  });
}

}  // namespace turnstone::cli

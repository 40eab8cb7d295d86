#include "tests/bench/site_comparison.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <iterator>

#include "tests/bench/process.h"
#include "tests/bench/progress.h"
#include "tests/bench/site_rules.h"
#include "tests/bench/sql_site.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

// From Monday 17:00, where the service's clock stands, to past midnight on
// Wednesday: then the visits of Monday should have an outcome.
constexpr int kHours = 32;
constexpr char kAccountedUntil[] = "2027-01-05T00:00:00Z";

void Expect(const grpc::Status& status) {
  if (status.ok()) return;
  std::fprintf(stderr, "bench: %s\n", status.error_message().c_str());
  std::abort();
}

// Every alert there is, by the rules that the site has too.
Prompts AlertsOf(const std::shared_ptr<grpc::Channel>& channel) {
  const auto stub = v1::AlertService::NewStub(channel);
  Prompts found;
  v1::ListAlertsRequest request;
  request.set_page_size(500);
  do {
    grpc::ClientContext context;
    Introduce(context);
    v1::ListAlertsResponse page;
    Expect(stub->ListAlerts(&context, request, &page));
    for (const v1::Alert& alert : page.alert()) {
      if (SiteRules().count(alert.rule().rule()) == 0) continue;
      found.emplace(alert.participant(), alert.rule().rule());
    }
    request.set_page_token(page.next_page_token());
  } while (!request.page_token().empty());
  return found;
}

void Wait(const std::shared_ptr<grpc::Channel>& channel) {
  grpc::ClientContext context;
  Introduce(context);
  v1::AdvanceClockRequest request;
  request.mutable_by()->set_seconds(int64_t{kHours} * 3600);
  v1::Clock clock;
  Expect(v1::ClockService::NewStub(channel)->AdvanceClock(&context, request,
                                                          &clock));
}

size_t Missing(const Prompts& from, const Prompts& here) {
  Prompts missing;
  std::set_difference(here.begin(), here.end(), from.begin(), from.end(),
                      std::inserter(missing, missing.end()));
  return missing.size();
}

}  // namespace

void FillStore(const std::string& program, const std::string& folder,
               const Requests& requests) {
  const auto server = StartTurnstone(program, folder);
  if (PostStreams(server->Connect(), requests, 1).refused > 0) std::abort();
  server->Stop();
}

nlohmann::ordered_json CompareWithSite(const std::string& program,
                                       const std::string& folder,
                                       const Requests& requests,
                                       const std::vector<size_t>& batches) {
  Progress("a site's own tables and queries");
  nlohmann::ordered_json found;
  const Setup setup = ShippedSetup();
  Prompts prompts;
  for (const size_t batch : batches) {
    const std::string path = absl::StrCat(folder, "/site-", batch, ".db");
    SqlSite site(path, setup);
    nlohmann::ordered_json cell = {{"batch", batch}};
    cell.update(Summary({site.TakeIn(requests, batch)}));
    cell["nightly_seconds"] = site.Nightly(At(kAccountedUntil));
    found["cells"].push_back(std::move(cell));
    prompts = site.Found();
    std::filesystem::remove(path);
  }
  const auto server = StartTurnstone(program, folder);
  const auto channel = server->Connect();
  Wait(channel);
  const Prompts alerts = AlertsOf(channel);
  found["rules"] = SiteRules().size();
  found["prompts"] = prompts.size();
  found["alerts"] = alerts.size();
  found["only_the_site"] = Missing(alerts, prompts);
  found["only_turnstone"] = Missing(prompts, alerts);
  return found;
}

}  // namespace turnstone

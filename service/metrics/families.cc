#include "service/metrics/families.h"

#include <filesystem>
#include <system_error>
#include <utility>

namespace turnstone {
namespace {

using prometheus::ClientMetric;
using prometheus::MetricFamily;
using prometheus::MetricType;
using Labels = std::vector<ClientMetric::Label>;

MetricFamily Family(MetricType type, const std::string& name,
                    const std::string& help) {
  return {name, help, type, {}};
}

void Add(double value, Labels labels, MetricFamily& family) {
  ClientMetric& metric = family.metric.emplace_back();
  metric.label = std::move(labels);
  metric.counter.value = value;
  metric.gauge.value = value;
}

MetricFamily Single(MetricType type, const std::string& name, double value,
                    const std::string& help) {
  MetricFamily family = Family(type, name, help);
  Add(value, {}, family);
  return family;
}

double SizeOf(const std::string& path) {
  std::error_code none;
  const auto size = std::filesystem::file_size(path, none);
  return none ? 0 : static_cast<double>(size);
}

void AddSubmissions(const Submissions& submissions,
                    std::vector<MetricFamily>& families) {
  families.push_back(Single(
      MetricType::Counter, "turnstone_events_accepted_total",
      static_cast<double>(submissions.accepted),
      "Events accepted, on disk and evaluated, since the program started."));
  families.push_back(Single(
      MetricType::Counter, "turnstone_events_repeated_total",
      static_cast<double>(submissions.repeated),
      "Events sent again and answered as the first time, without effect."));
  MetricFamily refused =
      Family(MetricType::Counter, "turnstone_events_refused_total",
             "Events refused, by gRPC status code.");
  for (const auto& [code, count] : submissions.refused) {
    Add(static_cast<double>(count), {{"code", absl::StatusCodeToString(code)}},
        refused);
  }
  families.push_back(std::move(refused));
}

void AddChannels(const std::vector<ChannelFigures>& channels,
                 std::vector<MetricFamily>& families) {
  MetricFamily owed = Family(MetricType::Gauge, "turnstone_messages_owed",
                             "Messages not yet taken by the channel.");
  MetricFamily oldest =
      Family(MetricType::Gauge, "turnstone_message_oldest_owed_seconds",
             "For how long the oldest of them has been owed.");
  MetricFamily failures =
      Family(MetricType::Gauge, "turnstone_channel_failures_in_a_row",
             "Failures since the channel last took a message.");
  for (const ChannelFigures& one : channels) {
    const Labels labels = {{"site", one.channel.site},
                           {"channel", one.channel.channel}};
    Add(static_cast<double>(one.owed), labels, owed);
    Add(absl::ToDoubleSeconds(one.oldest), labels, oldest);
    Add(one.failures_in_a_row, labels, failures);
  }
  for (MetricFamily* family : {&owed, &oldest, &failures}) {
    families.push_back(std::move(*family));
  }
}

void AddState(const Figures& figures, std::vector<MetricFamily>& families) {
  const auto gauge = [&families](const std::string& name, double value,
                                 const std::string& help) {
    families.push_back(Single(MetricType::Gauge, name, value, help));
  };
  gauge("turnstone_accepting", figures.accepting ? 1 : 0,
        "1 while new events are accepted.");
  gauge("turnstone_recording", figures.recording ? 1 : 0,
        "1 while anything can be recorded; at 0 no alert goes up its ladder.");
  gauge("turnstone_alerts_open", static_cast<double>(figures.open.open),
        "Alerts that no person has ended.");
  gauge("turnstone_alerts_in_nobodys_hands",
        static_cast<double>(figures.open.requested),
        "Open alerts that nobody has received.");
  gauge("turnstone_late_seconds", absl::ToDoubleSeconds(figures.late),
        "By how much what has waited longest to be asked or told is late.");
  gauge("turnstone_clock_behind_seconds",
        absl::ToDoubleSeconds(figures.clock_behind),
        "By how much the machine's clock is behind the service's time.");
}

}  // namespace

std::vector<MetricFamily> Families(const absl::StatusOr<Figures>& figures,
                                   const std::string& data) {
  std::vector<MetricFamily> families;
  families.push_back(Single(MetricType::Gauge, "turnstone_answering",
                            figures.ok() ? 1 : 0,
                            "1 if the heart of the service answered."));
  MetricFamily bytes = Family(MetricType::Gauge, "turnstone_store_bytes",
                              "Size of the store's files.");
  Add(SizeOf(data + "/turnstone.db"), {{"file", "database"}}, bytes);
  Add(SizeOf(data + "/turnstone.db-wal"), {{"file", "log"}}, bytes);
  families.push_back(std::move(bytes));
  if (!figures.ok()) return families;
  AddSubmissions(figures->submissions, families);
  AddState(*figures, families);
  AddChannels(figures->channels, families);
  return families;
}

}  // namespace turnstone

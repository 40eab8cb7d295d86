#include "tests/deliver/fake_delivery.h"

#include <algorithm>

namespace turnstone {
namespace {

using Lock = std::unique_lock<std::mutex>;

}  // namespace

void FakeOutlet::Owe(const ChannelKey& channel, const std::string& key) {
  Envelope envelope;
  envelope.key = key;
  envelope.site = channel.site;
  envelope.channel.set_id(channel.channel);
  const Lock lock(mutex_);
  lines_[channel].due.push_back(std::move(envelope));
  lines_[channel].idle = false;
}

void FakeOutlet::MakeDue() {
  const Lock lock(mutex_);
  for (auto& [channel, line] : lines_) {
    for (Envelope& envelope : line.later) line.due.push_back(envelope);
    line.later.clear();
    line.idle = false;
  }
}

void FakeOutlet::Refuse(bool refuse) {
  const Lock lock(mutex_);
  refuse_ = refuse;
  refusals_ = 0;
}

std::vector<FakeOutlet::Recorded> FakeOutlet::WaitForRecords(size_t count) {
  Lock lock(mutex_);
  news_.wait(lock, [&] { return records_.size() >= count; });
  return records_;
}

void FakeOutlet::WaitUntilIdle(const ChannelKey& channel) {
  Lock lock(mutex_);
  news_.wait(lock, [&] { return lines_[channel].idle; });
}

void FakeOutlet::WaitForRefusals(int count) {
  Lock lock(mutex_);
  news_.wait(lock, [&, end = refusals_ + count] { return refusals_ >= end; });
}

std::vector<FakeOutlet::Recorded> FakeOutlet::records() const {
  const Lock lock(mutex_);
  return records_;
}

bool FakeOutlet::asked_too_early() const {
  const Lock lock(mutex_);
  return asked_too_early_;
}

bool FakeOutlet::Refused() {
  if (!refuse_) return false;
  ++refusals_;
  news_.notify_all();
  return true;
}

absl::StatusOr<std::vector<ChannelKey>> FakeOutlet::Channels() {
  const Lock lock(mutex_);
  if (Refused()) return absl::UnavailableError("busy");
  std::vector<ChannelKey> channels;
  for (const auto& [channel, line] : lines_) channels.push_back(channel);
  return channels;
}

absl::StatusOr<std::optional<Envelope>> FakeOutlet::Next(
    const ChannelKey& channel) {
  const Lock lock(mutex_);
  if (Refused()) return absl::UnavailableError("busy");
  Line& line = lines_[channel];
  if (line.out) asked_too_early_ = true;
  if (!line.due.empty()) {
    line.out = true;
    return line.due.front();
  }
  line.idle = true;
  news_.notify_all();
  return std::nullopt;
}

absl::Status FakeOutlet::Record(const Envelope& envelope,
                                const absl::Status& result) {
  const Lock lock(mutex_);
  if (Refused()) return absl::UnavailableError("busy");
  Line& line = lines_[{envelope.site, envelope.channel.id()}];
  if (!result.ok() && !absl::IsInvalidArgument(result)) {
    line.later.push_back(envelope);
  }
  line.due.pop_front();
  line.out = false;
  records_.push_back({envelope.key, result.code()});
  news_.notify_all();
  return absl::OkStatus();
}

void FakeTransport::Answer(const std::string& key,
                           std::deque<absl::Status> answers) {
  const Lock lock(mutex_);
  answers_[key] = std::move(answers);
}

void FakeTransport::Hang(const std::string& channel) {
  const Lock lock(mutex_);
  hanging_channels_.insert(channel);
}

void FakeTransport::Release() {
  const Lock lock(mutex_);
  hanging_channels_.clear();
  news_.notify_all();
}

void FakeTransport::WaitForSending(const std::string& channel) {
  Lock lock(mutex_);
  news_.wait(lock, [&] { return under_way_[channel] > 0; });
}

std::vector<std::string> FakeTransport::sent() const {
  const Lock lock(mutex_);
  return sent_;
}

std::multiset<std::string> FakeTransport::taken() const {
  const Lock lock(mutex_);
  return taken_;
}

int FakeTransport::most_at_once() const {
  const Lock lock(mutex_);
  return most_at_once_;
}

absl::Status FakeTransport::Send(const Envelope& envelope) {
  Lock lock(mutex_);
  const std::string& channel = envelope.channel.id();
  most_at_once_ = std::max(most_at_once_, ++under_way_[channel]);
  sent_.push_back(envelope.key);
  news_.notify_all();
  news_.wait(lock, [&] { return hanging_channels_.count(channel) == 0; });
  --under_way_[channel];
  std::deque<absl::Status>& answers = answers_[envelope.key];
  absl::Status answer;
  if (!answers.empty()) {
    answer = answers.front();
    answers.pop_front();
  }
  if (answer.ok()) taken_.insert(envelope.key);
  return answer;
}

}  // namespace turnstone

// A core and a way out that do as a test says.
#pragma once

#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "service/deliver/outlet.h"
#include "service/deliver/transport.h"

namespace turnstone {

// Hands out what is owed, one after another, until it is told what became of
// it. Thread-safe.
class FakeOutlet final : public Outlet {
 public:
  struct Recorded {
    std::string key;
    absl::StatusCode result;
  };

  void Owe(const ChannelKey& channel, const std::string& key);
  // Makes what is to be tried again due.
  void MakeDue();
  // Every call is refused, or no longer.
  void Refuse(bool refuse);

  // Waits for that many outcomes; then all of them.
  std::vector<Recorded> WaitForRecords(size_t count);
  // Waits until the channel has been asked about and had nothing due.
  void WaitUntilIdle(const ChannelKey& channel);
  // Waits for that many calls to be refused from now on.
  void WaitForRefusals(int count);
  [[nodiscard]] std::vector<Recorded> records() const;
  // Whether a channel was asked about while one of its envelopes was out.
  [[nodiscard]] bool asked_too_early() const;

  absl::StatusOr<std::vector<ChannelKey>> Channels() override;
  absl::StatusOr<std::optional<Envelope>> Next(
      const ChannelKey& channel) override;
  absl::Status Record(const Envelope& envelope,
                      const absl::Status& result) override;

 private:
  struct Line {
    std::deque<Envelope> due;
    std::deque<Envelope> later;
    bool out = false;
    bool idle = false;
  };
  // REQUIRES: mutex_ is held.
  bool Refused();

  mutable std::mutex mutex_;
  std::condition_variable news_;
  std::map<ChannelKey, Line> lines_;
  std::vector<Recorded> records_;
  bool refuse_ = false;
  int refusals_ = 0;
  bool asked_too_early_ = false;
};

// Takes everything, unless told otherwise. Thread-safe.
class FakeTransport final : public Transport {
 public:
  // What the next sendings of that key come to, in turn; then it is taken.
  void Answer(const std::string& key, std::deque<absl::Status> answers);
  // Sendings on the channel hang until Release.
  void Hang(const std::string& channel);
  void Release();
  // Waits until a sending on the channel is under way.
  void WaitForSending(const std::string& channel);
  // Keys, in order of sending; and those that were taken.
  [[nodiscard]] std::vector<std::string> sent() const;
  [[nodiscard]] std::multiset<std::string> taken() const;
  // How many sendings of one channel were under way at once, at most.
  [[nodiscard]] int most_at_once() const;

  absl::Status Send(const Envelope& envelope) override;

 private:
  mutable std::mutex mutex_;
  std::condition_variable news_;
  std::map<std::string, std::deque<absl::Status>> answers_;
  std::set<std::string> hanging_channels_;
  std::vector<std::string> sent_;
  std::multiset<std::string> taken_;
  std::map<std::string, int> under_way_;
  int most_at_once_ = 0;
};

}  // namespace turnstone

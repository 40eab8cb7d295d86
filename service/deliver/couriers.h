// Carries what the core owes out of the service: a thread for each channel, so
// that one that hangs delays no other.
#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <thread>

#include "service/core/change_hub.h"
#include "service/core/envelope.h"
#include "service/deliver/bell.h"
#include "service/deliver/outlet.h"
#include "service/deliver/transport.h"

namespace turnstone {

struct CourierOptions {
  // The longest wait without news: time alone makes messages due.
  std::chrono::milliseconds nap{1000};
};

// Each channel has one envelope under way at most, and what became of it is
// durable before the next is asked for. Where that cannot be recorded, the
// channel waits until it can; only stopping leaves it unrecorded, and then the
// envelope is sent again, with the same key, after the next start.
//
// Start and Stop belong to one thread.
class Couriers {
 public:
  // All three outlive this.
  Couriers(Outlet& outlet, ChangeHub& hub, Transport& transport,
           CourierOptions options = {});
  // Stops as Stop().
  ~Couriers();
  Couriers(const Couriers&) = delete;
  Couriers& operator=(const Couriers&) = delete;

  // Once. REQUIRES: the outlet answers, i.e. its CommitThread has started.
  void Start();
  // Waits for what is being sent, but for nothing else. Stop the CommitThread
  // afterwards: what became of the last sending could not be recorded without.
  void Stop();

 private:
  // Finds channels, also those of a later configuration. One that is taken out
  // keeps its thread, which finds nothing to do any more.
  void FindChannels();
  void Serve(const ChannelKey& channel);
  // False: there was nothing to carry.
  [[nodiscard]] bool CarryOne(const ChannelKey& channel);
  void Record(const Envelope& envelope, const absl::Status& result);

  Outlet& outlet_;
  ChangeHub& hub_;
  Transport& transport_;
  const CourierOptions options_;
  Bell bell_;
  int64_t subscription_ = 0;
  std::thread finder_;
  // Touched by finder_ alone while it runs.
  std::map<ChannelKey, std::thread> couriers_;
};

}  // namespace turnstone

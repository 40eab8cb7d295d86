#include "service/deliver/couriers.h"

#include "platform/log.h"

namespace turnstone {

Couriers::Couriers(Outlet& outlet, ChangeHub& hub, Transport& transport,
                   CourierOptions options)
    : outlet_(outlet), hub_(hub), transport_(transport), options_(options) {}

Couriers::~Couriers() { Stop(); }

void Couriers::Start() {
  subscription_ = hub_.Subscribe([this] { bell_.Ring(); });
  finder_ = std::thread([this] { FindChannels(); });
}

void Couriers::Stop() {
  if (!finder_.joinable()) return;
  hub_.Unsubscribe(subscription_);
  bell_.Stop();
  finder_.join();
  for (auto& [channel, courier] : couriers_) courier.join();
}

void Couriers::FindChannels() {
  while (!bell_.stopped()) {
    const int64_t heard = bell_.rings();
    const auto channels = outlet_.Channels();
    if (channels.ok()) {
      for (const ChannelKey& channel : *channels) {
        std::thread& courier = couriers_[channel];
        if (courier.joinable()) continue;
        courier = std::thread([this, channel] { Serve(channel); });
      }
    }
    bell_.Wait(heard, options_.nap);
  }
}

void Couriers::Serve(const ChannelKey& channel) {
  while (!bell_.stopped()) {
    const int64_t heard = bell_.rings();
    if (!CarryOne(channel)) bell_.Wait(heard, options_.nap);
  }
}

bool Couriers::CarryOne(const ChannelKey& channel) {
  const auto next = outlet_.Next(channel);
  if (!next.ok() || !next->has_value()) return false;
  const Envelope& envelope = **next;
  const absl::Status result = transport_.Send(envelope);
  if (!result.ok()) {
    Log(LogLevel::kWarning, "a message was not taken",
        {{"site", channel.site},
         {"channel", channel.channel},
         {"why", std::string(result.message())}});
  }
  Record(envelope, result);
  return true;
}

void Couriers::Record(const Envelope& envelope, const absl::Status& result) {
  while (true) {
    const int64_t heard = bell_.rings();
    if (outlet_.Record(envelope, result).ok()) return;
    if (bell_.stopped()) return;
    bell_.Wait(heard, options_.nap);
  }
}

}  // namespace turnstone

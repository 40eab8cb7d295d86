#include "tests/bench/follower.h"

namespace turnstone {

Follower::Follower(const std::shared_ptr<grpc::Channel>& channel,
                   const Requests& requests, Run& run)
    : run_(run), stub_(v1::AlertService::NewStub(channel)) {
  for (size_t i = 0; i < requests.size(); ++i) {
    number_of_.emplace(requests[i].event().event_id(), i);
  }
  Introduce(context_);
  stub_->async()->FollowAlerts(&context_, &request_, this);
  StartRead(&alert_);
  StartCall();
  Await(served_);
}

void Follower::Await(const bool& happened) {
  std::unique_lock<std::mutex> lock(mutex_);
  changed_.wait(lock, [&happened] { return happened; });
}

void Follower::OnReadInitialMetadataDone(bool /*ok*/) {
  const std::lock_guard<std::mutex> lock(mutex_);
  served_ = true;
  changed_.notify_all();
}

void Follower::OnReadDone(bool ok) {
  if (!ok) return;
  const auto event = number_of_.find(alert_.occurrence().rbegin()->event_id());
  if (event != number_of_.end()) {
    micros_.push_back(run_.SinceSent(event->second));
    number_of_.erase(event);
  }
  StartRead(&alert_);
}

void Follower::OnDone(const grpc::Status& /*status*/) {
  const std::lock_guard<std::mutex> lock(mutex_);
  over_ = true;
  changed_.notify_all();
}

std::vector<double> Follower::Stop() {
  context_.TryCancel();
  Await(over_);
  return std::move(micros_);
}

}  // namespace turnstone

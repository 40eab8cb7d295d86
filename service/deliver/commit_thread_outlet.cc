#include "service/deliver/commit_thread_outlet.h"

#include <future>
#include <memory>

namespace turnstone {
namespace {

absl::Status Busy() {
  return absl::UnavailableError("the service is busy or stopping");
}

// Runs `read` on the commit thread and waits for what it returns. The promise
// is shared, because the commit thread may still hold it when we go on.
template <typename Result, typename Read>
absl::StatusOr<Result> Ask(CommitThread& thread, Read read) {
  const auto answer = std::make_shared<std::promise<absl::StatusOr<Result>>>();
  if (!thread.PushRead([=](Core& core) { answer->set_value(read(core)); })) {
    return Busy();
  }
  return answer->get_future().get();
}

}  // namespace

absl::StatusOr<std::vector<ChannelKey>> CommitThreadOutlet::Channels() {
  return Ask<std::vector<ChannelKey>>(
      thread_, [](const Core& core) { return core.Channels(); });
}

absl::StatusOr<std::optional<Envelope>> CommitThreadOutlet::Next(
    const ChannelKey& channel) {
  return Ask<std::optional<Envelope>>(
      thread_, [channel](Core& core) { return core.NextEnvelope(channel); });
}

absl::Status CommitThreadOutlet::Record(const Envelope& envelope,
                                        const absl::Status& result) {
  const auto answer = std::make_shared<std::promise<absl::Status>>();
  const bool taken =
      thread_.PushChange([=](Core& core) -> CommitThread::Answer {
        core.StageDelivery(envelope, result);
        return [answer](const absl::Status& committed) {
          // Where there is no room, the core keeps it in mind; the channel need
          // not wait with what else it owes.
          answer->set_value(absl::IsResourceExhausted(committed)
                                ? absl::OkStatus()
                                : committed);
        };
      });
  if (!taken) return Busy();
  return answer->get_future().get();
}

}  // namespace turnstone

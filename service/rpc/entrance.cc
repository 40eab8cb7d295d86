#include "service/rpc/entrance.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

#include "service/rpc/identity.h"

namespace turnstone {
namespace {

constexpr const char* kPushback = "grpc-retry-pushback-ms";

absl::Status TooMuch(absl::Duration wait) {
  const int64_t seconds = std::max<int64_t>(
      1, absl::ToInt64Seconds(absl::Ceil(wait, absl::Seconds(1))));
  return absl::ResourceExhaustedError(absl::StrCat(
      "not accepted: you have too many calls under way, or began too many in "
      "a short time; wait ",
      seconds, " s and repeat the call; many events go by SubmitStream"));
}

}  // namespace

absl::StatusOr<Entered> Enter(grpc::ServerContextBase& context, Limits& limits,
                              CallKind kind) {
  absl::StatusOr<Presented> who = WhoCalls(context);
  if (!who.ok()) return who.status();
  std::string source =
      who->certificate_uri.empty() ? who->name : who->certificate_uri;
  Limits::Answer answer = limits.Begin(source, kind);
  if (answer.pass == nullptr) {
    context.AddTrailingMetadata(
        kPushback, absl::StrCat(absl::ToInt64Milliseconds(answer.wait) + 1));
    return TooMuch(answer.wait);
  }
  return Entered{*std::move(who), std::move(source), std::move(answer.pass)};
}

}  // namespace turnstone

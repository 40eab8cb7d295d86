#include "clients/cli/submit_batch.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <memory>

#include "clients/cli/exit_code.h"

namespace turnstone::cli {
namespace {

using Lines = std::vector<InputLine*>;
using Stream =
    grpc::ClientReaderWriter<v1::SubmitRequest, v1::SubmitStreamResponse>;

Lines OpenLines(std::vector<InputLine>& lines) {
  Lines open;
  for (InputLine& line : lines) {
    if (line.state == LineState::kOpen) open.push_back(&line);
  }
  return open;
}

absl::Status Apply(const v1::SubmitStreamResponse& reply, InputLine& line) {
  if (reply.source() != line.event->source() ||
      reply.event_id() != line.event->event_id()) {
    return absl::UnknownError("the replies do not match what was sent");
  }
  if (reply.has_accepted()) {
    line.accepted = reply.accepted();
    line.state = LineState::kAccepted;
    return absl::OkStatus();
  }
  const absl::Status refusal(
      static_cast<absl::StatusCode>(reply.refused().code()),
      reply.refused().message());
  if (refusal.ok() || ExitCodeFor(refusal) == ExitCode::kUnknown) {
    return absl::UnknownError(reply.refused().message());
  }
  line.reason = reply.refused().message();
  line.state =
      WorthRepeating(refusal) ? LineState::kTurnedAway : LineState::kRefused;
  return absl::OkStatus();
}

// The window is below the service's own, so that writing everything before
// reading cannot block for ever.
absl::Status Exchange(Stream& stream, const Lines& lines) {
  for (const InputLine* line : lines) {
    v1::SubmitRequest request;
    *request.mutable_event() = *line->event;
    if (!stream.Write(request)) break;
  }
  stream.WritesDone();
  absl::Status problem;
  v1::SubmitStreamResponse reply;
  for (size_t i = 0; stream.Read(&reply); ++i) {
    problem.Update(i < lines.size()
                       ? Apply(reply, *lines[i])
                       : absl::UnknownError("more replies than events"));
  }
  return problem;
}

absl::Status SendOnce(const Connection& connection, const Lines& lines) {
  grpc::ClientContext context;
  connection.Prepare(context, absl::Minutes(1));
  const auto stream = connection.events->SubmitStream(&context);
  absl::Status problem = Exchange(*stream, lines);
  const absl::Status end = FromGrpc(stream->Finish());
  if (WorthRepeating(end)) {
    for (InputLine* line : lines) {
      if (line->state != LineState::kOpen) continue;
      line->state = LineState::kTurnedAway;
      line->reason = std::string(end.message());
    }
    return problem;
  }
  problem.Update(end);
  const bool all_answered = std::none_of(
      lines.begin(), lines.end(),
      [](const InputLine* line) { return line->state == LineState::kOpen; });
  if (problem.ok() && !all_answered) {
    return absl::UnknownError("fewer replies than events");
  }
  return problem;
}

// Opens every line turned away, and those refused after one: they may only
// have been refused for lack of it. False if there is none.
bool OpenAgain(const Lines& lines) {
  bool any = false;
  for (InputLine* line : lines) {
    any = any || line->state == LineState::kTurnedAway;
    if (any && line->state != LineState::kAccepted) {
      line->state = LineState::kOpen;
    }
  }
  return any;
}

}  // namespace

absl::Status SendBatch(const Connection& connection, Sleeper& sleeper,
                       std::vector<InputLine>& lines) {
  for (int attempt = 1;; ++attempt) {
    const Lines open = OpenLines(lines);
    if (open.empty()) return absl::OkStatus();
    absl::Status status = SendOnce(connection, open);
    if (!status.ok() || attempt == kAttempts) return status;
    if (!OpenAgain(open)) return absl::OkStatus();
    sleeper.Sleep(PauseBefore(attempt + 1));
  }
}

}  // namespace turnstone::cli

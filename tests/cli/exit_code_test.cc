// Source: the table of status codes in service.proto.
#include "clients/cli/exit_code.h"

#include <grpcpp/grpcpp.h>
#include <gtest/gtest.h>

#include <tuple>

#include "clients/cli/connection.h"

namespace turnstone::cli {
namespace {

TEST(ExitCode, FollowsTheContract) {
  const std::tuple<grpc::StatusCode, const char*, ExitCode> cases[] = {
      {grpc::OK, "", ExitCode::kDone},
      {grpc::INVALID_ARGUMENT, "", ExitCode::kRefused},
      {grpc::NOT_FOUND, "", ExitCode::kRefused},
      {grpc::ALREADY_EXISTS, "", ExitCode::kRefused},
      {grpc::FAILED_PRECONDITION, "", ExitCode::kRefused},
      {grpc::UNAUTHENTICATED, "", ExitCode::kRefused},
      {grpc::PERMISSION_DENIED, "", ExitCode::kRefused},
      {grpc::RESOURCE_EXHAUSTED, "not accepted: busy", ExitCode::kRefused},
      {grpc::RESOURCE_EXHAUSTED, "message too large", ExitCode::kUnknown},
      {grpc::DEADLINE_EXCEEDED, "", ExitCode::kUnknown},
      {grpc::UNAVAILABLE, "", ExitCode::kUnknown},
      {grpc::CANCELLED, "", ExitCode::kUnknown},
      {grpc::INTERNAL, "", ExitCode::kUnknown},
      {grpc::UNKNOWN, "", ExitCode::kUnknown},
      {grpc::UNIMPLEMENTED, "", ExitCode::kUnknown},
      {grpc::DATA_LOSS, "", ExitCode::kUnknown},
      {grpc::ABORTED, "", ExitCode::kUnknown},
      {grpc::OUT_OF_RANGE, "", ExitCode::kUnknown},
  };
  for (const auto& [code, message, expected] : cases) {
    EXPECT_EQ(ExitCodeFor(FromGrpc(grpc::Status(code, message))), expected)
        << code;
  }
}

TEST(ExitCode, OnlyWhatWasNotAcceptedIsWorthRepeating) {
  EXPECT_TRUE(WorthRepeating(
      absl::ResourceExhaustedError("not accepted: the queue is full")));
  EXPECT_FALSE(WorthRepeating(absl::ResourceExhaustedError("too large")));
  EXPECT_FALSE(WorthRepeating(absl::UnavailableError("not accepted")));
}

}  // namespace
}  // namespace turnstone::cli

// A store in a folder of its own, and things to put into it.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>
#include <gmock/gmock.h>
#include <google/protobuf/message.h>
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <memory>
#include <string>
#include <vector>

#include "service/store/sqlite_store.h"
#include "service/store/store.h"

namespace turnstone {

// A message with the same fields set to the same values.
MATCHER_P(EqualsProto, wanted, "") {
  return arg.SerializeAsString() == wanted.SerializeAsString();
}

// Status with this code and a message that contains `part`.
MATCHER_P2(IsError, code, part, "") {
  *result_listener << arg.ToString();
  return arg.code() == code &&
         std::string(arg.message()).find(part) != std::string::npos;
}

class StoreTest : public testing::Test {
 protected:
  StoreTest();
  ~StoreTest() override;

  // Below a folder that is removed at the end; does not exist at first.
  [[nodiscard]] std::string folder() const { return root_ + "/data"; }
  [[nodiscard]] std::string database() const {
    return folder() + "/turnstone.db";
  }

  // Opens the store in folder(); fails the test if that fails.
  void Open();
  void Close() { store_.reset(); }
  void Reopen() {
    Close();
    Open();
  }
  Store& store() { return *store_; }

  // The value, after failing the test if there is none.
  template <typename T>
  static T Get(absl::StatusOr<T> value) {
    EXPECT_TRUE(value.ok()) << value.status();
    return value.ok() ? *std::move(value) : T{};
  }

  // First column of every row, read past the store. REQUIRES: it is closed.
  std::vector<std::string> Raw(const std::string& sql) const;

 private:
  std::string root_;
  std::unique_ptr<Store> store_;
};

// Noon on an ordinary day.
[[nodiscard]] absl::Time Noon();

[[nodiscard]] StoredEvent MakeEvent(int64_t sequence,
                                    const std::string& event_id,
                                    const std::string& participant = "p-1");

[[nodiscard]] v1::Alert MakeAlert(int number, absl::Time raised_at,
                                  v1::Priority priority = v1::PRIORITY_ASAP);

[[nodiscard]] AuditRecord MakeAudit(const std::string& subject);

// One event, one alert at position `number`, one participant and one audit
// record, all of them numbered `number`.
[[nodiscard]] WriteBatch MakeBatch(int number);

// All permission bits, as 0600.
[[nodiscard]] unsigned ModeOf(const std::string& path);

// 0 if there is no such file.
[[nodiscard]] size_t SizeOf(const std::string& path);

}  // namespace turnstone

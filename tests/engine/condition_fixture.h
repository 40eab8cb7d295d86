// Asking one condition of one participant's history.
#pragma once

#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "rules/engine/condition.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {

class ConditionTest : public testing::Test {
 protected:
  void Know(const v1::Event& event) {
    ASSERT_TRUE(history_.Apply(event, setup_.catalogue()).ok());
  }
  // Asked about the event `id`, at the time it happened or at `due`.
  Truth Ask(const std::string& text, const std::string& id,
            absl::Time due = absl::InfinitePast()) {
    v1::Condition condition;
    EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &condition))
        << text;
    const size_t at = history_.Find({"urn:test", id}).value();
    const View view(site_, history_, at,
                    std::max(due, history_.facts()[at].effective));
    return Evaluate(condition, view, nullptr);
  }
  absl::Time Day(int day) const { return start_ + absl::Hours(24) * day; }

  const turnstone::Setup setup_ = ShippedSetup();
  const Site& site_ = *setup_.FindSite("pebble-bay");
  History history_;
  const absl::Time start_ = At("2027-01-04T10:00:00Z");
};

}  // namespace turnstone

// A small questionnaire, a site and conditions on rows of its forms and of
// visits.
#pragma once

#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "rules/engine/setup.h"

namespace turnstone {

// One condition for everything that a row of forms, or of visits, is remembered
// by.
const std::vector<std::string>& OnForms();
const std::vector<std::string>& OnVisits();

// Site "bay" with the instrument "small", two questions with two answers each,
// and one rule, of kind outreach at priority asap.
turnstone::Setup SmallSetup(const std::string& when,
                            const std::string& condition);

// Every row of `length` numbers below `below`.
std::vector<std::vector<int>> RowsOf(int below, int length);

template <typename Message>
Message Read(const std::string& text) {
  Message message;
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &message))
      << text;
  return message;
}

}  // namespace turnstone

// What a digest leaves out makes no difference: of any two rows with the same
// digest, every condition says the same after every step more, and the digests
// are the same again. Gone through row by row, for each condition with its own
// memory alone.
#include <gtest/gtest.h>

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "rules/engine/condition.h"
#include "rules/prove/case_events.h"
#include "rules/prove/form_row.h"
#include "tests/prove/small_rows.h"

namespace turnstone {
namespace {

constexpr int kLongest = 4;

class FormMemory : public testing::TestWithParam<size_t> {
 protected:
  // What every condition says at the end of the row.
  std::vector<Truth> TruthsAfter(const Row& row) {
    History history;
    size_t week = 0;
    for (const int step : row) {
      if (week == GetParam()) Know(made_.Enrolment(Int(week)), history);
      Know(made_.Form(forms_[static_cast<size_t>(step)].form, Int(week++)),
           history);
    }
    const size_t at = history.facts().size() - 1;
    const View view(site_, history, at, history.facts()[at].effective);
    std::vector<Truth> truths;
    for (const v1::Condition& condition : conditions_) {
      truths.push_back(Evaluate(condition, view, nullptr));
    }
    return truths;
  }
  static int Int(size_t number) { return static_cast<int>(number); }
  void Know(const v1::Event& event, History& history) const {
    ASSERT_TRUE(history.Apply(event, setup_.catalogue()).ok());
  }

  static std::vector<v1::Condition> ReadAll() {
    std::vector<v1::Condition> conditions;
    for (const std::string& text : OnForms()) {
      conditions.push_back(Read<v1::Condition>(text));
    }
    return conditions;
  }

  const turnstone::Setup setup_ = SmallSetup("enrolment {}", "enrolled {}");
  const Site& site_ = *setup_.FindSite("bay");
  const CaseEvents made_{site_, "case"};
  const std::vector<RowForm> forms_ =
      FormsOfRows(*setup_.catalogue().Find("small"), {0});
  const std::vector<v1::Condition> conditions_ = ReadAll();
};

TEST_P(FormMemory, LeavesOutNothingThatMatters) {
  // Two questions answered with no, yes or not at all.
  ASSERT_EQ(forms_.size(), 9U);
  std::map<Row, std::vector<Truth>> truths;
  for (int length = 1; length <= kLongest; ++length) {
    for (const Row& row : RowsOf(9, length)) truths[row] = TruthsAfter(row);
  }
  for (size_t i = 0; i < conditions_.size(); ++i) {
    ASSERT_TRUE(HasMemory(conditions_[i]));
    RowMemory memory;
    AddMemory(conditions_[i], "small", 2, memory);
    const FormDigest digest(forms_, true, memory, GetParam());
    // By the digest of a row and a step: the truth and the digest after it.
    std::map<std::pair<std::vector<int>, int>,
             std::pair<Truth, std::vector<int>>>
        known;
    for (const auto& [row, truth] : truths) {
      const Row before(row.begin(), row.end() - 1);
      const std::pair<Truth, std::vector<int>> after{truth[i], digest.Of(row)};
      const auto [place, added] =
          known.emplace(std::pair{digest.Of(before), row.back()}, after);
      ASSERT_TRUE(added || place->second == after)
          << OnForms()[i] << " after " << testing::PrintToString(row);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(EnrolledAfter, FormMemory, testing::Values(0, 1, 2));

}  // namespace
}  // namespace turnstone

#include "tests/measure/forms.h"

#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <utility>

namespace turnstone::testing {
namespace {

std::filesystem::path InstrumentFolder() {
  return std::filesystem::path(TURNSTONE_SOURCE_DIR) / "rules/instruments";
}

using Codes = std::vector<std::string>;

Codes Frequencies() { return {"LA6568-5", "LA6569-3", "LA6570-1", "LA6571-9"}; }

Questionnaire FirstOf(const Questionnaire& form, std::ptrdiff_t count,
                      const std::string& id) {
  return {id, Codes(form.questions.begin(), form.questions.begin() + count),
          form.answers};
}

// "who5-1" to "who5-5", and the like.
Codes Numbered(const std::string& stem, int count) {
  Codes codes;
  for (int i = 1; i <= count; ++i) codes.push_back(stem + std::to_string(i));
  return codes;
}

}  // namespace

Scale LoadScale(const std::string& id) {
  std::ifstream file(InstrumentFolder() / (id + ".textproto"));
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  EXPECT_FALSE(text.empty()) << "no file for " << id;
  v1::Instrument instrument;
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &instrument))
      << id;
  return Scale(std::move(instrument));
}

std::vector<std::string> InstrumentIds() {
  std::vector<std::string> ids;
  for (const auto& entry :
       std::filesystem::directory_iterator(InstrumentFolder())) {
    ids.push_back(entry.path().stem().string());
  }
  std::sort(ids.begin(), ids.end());
  return ids;
}

const Questionnaire& Phq9() {
  static const auto* const kForm =
      new Questionnaire{"phq-9",
                        {"44250-9", "44255-8", "44259-0", "44254-1", "44251-7",
                         "44258-2", "44252-5", "44253-3", "44260-8"},
                        Frequencies()};
  return *kForm;
}

const Questionnaire& Phq8() {
  static const auto* const kForm =
      new Questionnaire(FirstOf(Phq9(), 8, "phq-8"));
  return *kForm;
}

const Questionnaire& Phq2() {
  static const auto* const kForm =
      new Questionnaire(FirstOf(Phq9(), 2, "phq-2"));
  return *kForm;
}

const Questionnaire& Gad7() {
  static const auto* const kForm =
      new Questionnaire{"gad-7",
                        {"69725-0", "68509-9", "69733-4", "69734-2", "69735-9",
                         "69689-8", "69736-7"},
                        Frequencies()};
  return *kForm;
}

const Questionnaire& Gad2() {
  static const auto* const kForm =
      new Questionnaire(FirstOf(Gad7(), 2, "gad-2"));
  return *kForm;
}

const Questionnaire& Gds15() {
  static const auto* const kForm =
      new Questionnaire{"gds-15",
                        {"48512-8", "48513-6", "48514-4", "48515-1", "48518-5",
                         "48519-3", "48520-1", "48521-9", "48523-5", "48525-0",
                         "48526-8", "48528-4", "48532-6", "48533-4", "48534-2"},
                        {"LA32-8", "LA33-6"}};
  return *kForm;
}

const Questionnaire& Gds30() {
  static const auto* const kForm = new Questionnaire{
      "gds-30",
      {"48512-8", "48513-6", "48514-4", "48515-1", "48516-9", "48517-7",
       "48518-5", "48519-3", "48520-1", "48521-9", "48522-7", "48523-5",
       "48524-3", "48525-0", "48526-8", "48527-6", "48528-4", "48529-2",
       "48530-0", "48531-8", "48532-6", "48533-4", "48534-2", "48535-9",
       "48536-7", "48537-5", "48538-3", "48539-1", "48540-9", "48541-7"},
      {"LA32-8", "LA33-6"}};
  return *kForm;
}

const Questionnaire& Who5() {
  static const auto* const kForm =
      new Questionnaire{"who-5",
                        Numbered("who5-", 5),
                        {"who5-none", "who5-some", "who5-less-half",
                         "who5-more-half", "who5-most", "who5-all"}};
  return *kForm;
}

const Questionnaire& Epds() {
  static const auto* const kForm = new Questionnaire{
      "epds", Numbered("epds-", 10), Numbered("epds-position-", 4)};
  return *kForm;
}

const Questionnaire& Ucla3() {
  static const auto* const kForm = new Questionnaire{
      "ucla-3",
      Numbered("ucla3-", 3),
      {"ucla3-hardly-ever", "ucla3-some-of-the-time", "ucla3-often"}};
  return *kForm;
}

const Questionnaire& Sis() {
  static const auto* const kForm =
      new Questionnaire{"sis",
                        {"sis-year", "sis-month", "sis-weekday", "sis-word-1",
                         "sis-word-2", "sis-word-3"},
                        {"sis-incorrect", "sis-correct"}};
  return *kForm;
}

v1::ScreeningResult Fill(const Questionnaire& form,
                         const std::vector<int>& ticks) {
  v1::ScreeningResult result;
  result.set_instrument(form.id);
  for (size_t i = 0; i < ticks.size(); ++i) {
    if (ticks[i] == kBlank) continue;
    AddAnswer(result, form.questions.at(i),
              form.answers.at(static_cast<size_t>(ticks[i])));
  }
  return result;
}

void AddAnswer(v1::ScreeningResult& result, const std::string& question,
               const std::string& answer) {
  v1::ItemAnswer& added = *result.add_answers();
  added.set_question(question);
  added.set_answer(answer);
}

Score MustScore(const Scale& scale, const v1::ScreeningResult& form) {
  const absl::StatusOr<Score> score = ScoreForm(scale, form);
  EXPECT_TRUE(score.ok()) << score.status().ToString();
  if (score.ok()) return *score;
  // Sized, so that the test goes on to report rather than crash.
  Score blank;
  blank.points.resize(static_cast<size_t>(scale.definition().item_size()));
  blank.answered.resize(blank.points.size());
  return blank;
}

}  // namespace turnstone::testing

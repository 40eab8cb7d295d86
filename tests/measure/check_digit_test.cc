#include "rules/measure/check_digit.h"

#include <gtest/gtest.h>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

TEST(CheckDigit, TellsAMistypedCode) {
  // 44260-8, LA6568-5, LL358-3: published by LOINC. Any other last digit is
  // wrong, as each number has exactly one check digit.
  for (const std::string good : {"44260-8", "LA6568-5", "LL358-3", "LA33-6"}) {
    for (char digit = '0'; digit <= '9'; ++digit) {
      std::string code = good;
      code.back() = digit;
      EXPECT_EQ(LoincCheckDigitOk(code), code == good) << code;
    }
  }
}

TEST(CheckDigit, TellsAnySingleWrongDigit) {
  // A property of the Luhn rule.
  const std::string good = "44260-8";
  for (size_t at = 0; at < 5; ++at) {
    for (char digit = '0'; digit <= '9'; ++digit) {
      std::string code = good;
      code[at] = digit;
      EXPECT_EQ(LoincCheckDigitOk(code), code == good) << code;
    }
  }
}

TEST(CheckDigit, KnowsTheFormOfACode) {
  for (const std::string code :
       {"44260-8", "44260-7", "LA6568-5", "LL358-3", "1-8"}) {
    EXPECT_TRUE(HasLoincForm(code)) << code;
  }
  for (const std::string code :
       {"", "-", "8", "-8", "LA-5", "44260", "44260-", "44260-88", "442-60-8",
        "who5-1", "epds-position-1", "yes-no", "LAX33-6", "la33-6"}) {
    EXPECT_FALSE(HasLoincForm(code)) << code;
    EXPECT_FALSE(LoincCheckDigitOk(code)) << code;
  }
}

void ExpectGoodCode(const std::string& code, const std::string& where) {
  if (HasLoincForm(code)) {
    EXPECT_TRUE(LoincCheckDigitOk(code)) << where << ": " << code;
  }
}

TEST(CheckDigit, FitsInEveryInstrumentFile) {
  for (const std::string& id : InstrumentIds()) {
    const Scale scale = LoadScale(id);
    const v1::Instrument& instrument = scale.definition();
    ExpectGoodCode(instrument.panel_code(), id);
    ExpectGoodCode(instrument.total_code(), id);
    for (const v1::AnswerList& list : instrument.answer_list()) {
      ExpectGoodCode(list.id(), id);
    }
    size_t index = 0;
    for (const v1::Item& item : instrument.item()) {
      ExpectGoodCode(item.code(), id);
      for (const std::string& code : item.also_coded()) {
        ExpectGoodCode(code, id);
      }
      for (const v1::Answer& answer : scale.AnswersTo(index)) {
        ExpectGoodCode(answer.code(), id);
      }
      ++index;
    }
  }
}

}  // namespace
}  // namespace turnstone::testing

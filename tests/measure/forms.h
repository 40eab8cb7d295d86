// Filled-in forms for tests. The codes are written out here a second time, from
// their sources, so that a slip in an instrument file does not go unseen.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/measure/catalogue.h"
#include "rules/measure/score.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::testing {

// rules/instruments/<id>.textproto, which must parse.
Scale LoadScale(const std::string& id);
// The ids of all files there, in order.
std::vector<std::string> InstrumentIds();

// A printed form: questions in printed order, and what may be ticked.
struct Questionnaire {
  std::string id;
  std::vector<std::string> questions;
  std::vector<std::string> answers;
};

// HL7 pco-ig Questionnaire-PHQ9; LOINC LL358-3. Answers count 0 to 3.
const Questionnaire& Phq9();
const Questionnaire& Phq8();
const Questionnaire& Phq2();
// HL7 pco-ig Questionnaire-GAD7; LOINC LL358-3. Answers count 0 to 3.
const Questionnaire& Gad7();
const Questionnaire& Gad2();
// HL7 Europe's GDS table, then by sequence. Answers: no, yes.
const Questionnaire& Gds15();
const Questionnaire& Gds30();
// Local codes. WHO-5 answers count 0 to 5; UCLA-3 1 to 3; EPDS in printed
// order; SIS incorrect, correct.
const Questionnaire& Who5();
const Questionnaire& Epds();
const Questionnaire& Ucla3();
const Questionnaire& Sis();

constexpr int kBlank = -1;

// One tick a question, as an index into `answers`; kBlank leaves it out.
v1::ScreeningResult Fill(const Questionnaire& form,
                         const std::vector<int>& ticks);
void AddAnswer(v1::ScreeningResult& result, const std::string& question,
               const std::string& answer);

// ScoreForm, which must succeed.
Score MustScore(const Scale& scale, const v1::ScreeningResult& form);

}  // namespace turnstone::testing

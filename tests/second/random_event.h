// One thing that happens to one participant.
#pragma once

#include "tests/second/dice.h"
#include "turnstone/v1/event.pb.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::second {

// What sort of participant: how often each kind of event comes, of 100.
struct Sort {
  int screening;
  int planned;
  int outcome;
  int practice;
  int enrolment;  // the rest: discharges
  int favourite;  // of 100 screenings, those with one instrument
};

struct Life {
  const v1::Configuration& configuration;
  const Sort& sort;
  const v1::Instrument& favourite;
  // 0 to 100: which answers are likely on most forms.
  int severity = 0;
};

// `configuration` outlives it.
[[nodiscard]] Life RandomLife(const v1::Configuration& configuration,
                              Dice& dice);

void Enrol(Dice& dice, v1::Event& event);
// Any kind but a correction. REQUIRES: it has an effective time.
void Fill(const Life& life, Dice& dice, v1::Event& event);

}  // namespace turnstone::second

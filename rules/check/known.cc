#include "rules/check/known.h"

#include "rules/check/require.h"

namespace turnstone {

void CheckInstruments(
    const google::protobuf::RepeatedPtrField<std::string>& instruments,
    const Place& place, const Known& known) {
  if (instruments.empty()) {
    place.Report("instrument-not-named", "no instrument is named",
                 "write instrument: \"...\"");
  }
  Names names("instrument");
  for (int i = 0; i < instruments.size(); ++i) {
    const Place at = place.At("instrument", i);
    names.Add(at, instruments.Get(i));
    Lookup(known.instruments, known.complete, "instrument", instruments.Get(i),
           at);
  }
}

}  // namespace turnstone

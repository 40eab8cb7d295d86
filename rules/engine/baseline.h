// Which form the later ones are held against.
#pragma once

#include <vector>

#include "rules/engine/history.h"

namespace turnstone {

// The better baseline of the two, `form` being the later one. `baseline`: of
// those before, null if none of them was. `enrolment`: the latest, or null.
// Pure.
[[nodiscard]] const Fact* LaterBaseline(const Fact* baseline, const Fact& form,
                                        const Fact* enrolment);

// The last of the `earlier` forms up to enrolment, else the first; null if
// there is none. Forms that were declined as a whole are passed over.
// `earlier`: forms with one instrument before the one in question, oldest
// first. `enrolment`: the latest one, or null. Pure.
[[nodiscard]] const Fact* BaselineAmong(const std::vector<const Fact*>& earlier,
                                        const Fact* enrolment);

}  // namespace turnstone

// Properties over every open alert.
#pragma once

#include <absl/time/time.h>

#include "rules/engine/setup.h"
#include "rules/prove/proof.h"

namespace turnstone {

// Whether somebody is told again, after a finite wait, of every alert that may
// be open at the site: of every kind, priority and status, latched or not,
// after every rung; asked hour by hour over the fortnight from `from` on,
// and of a fortnight about the next clock change within 400 days. And whether
// the last rung of every ladder tells a role that somebody has, or whoever of
// it is on duty: while nobody is, all of the role are told. Pure.
void ProveHasDeadline(const Site& site, absl::Time from, Proof& proof);

}  // namespace turnstone

// What turnstoned does without serving: "turnstoned verify", "turnstoned
// audit-verify" and "turnstoned restore".
#pragma once

namespace turnstone {

// Whether the command line asks for one of them.
[[nodiscard]] bool IsOffline(int argc, const char** argv);

// Does it. 0: all is well; 1: it is not, or could not be done, as printed; 2:
// the command is not written as it must be.
[[nodiscard]] int RunOffline(int argc, const char** argv);

}  // namespace turnstone

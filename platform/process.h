// What the process as a whole must not give away.
#pragma once

namespace turnstone {

// Files made from now on belong to the user alone, whatever the umask was. A
// crash leaves no memory behind: neither as a core file nor handed to a
// program that collects them, which no limit holds back (core(5)). Call it
// first in main().
void KeepToOurselves();

}  // namespace turnstone

// The floor of the wire: a server that takes the same calls and answers each at
// once, having done nothing.
#pragma once

namespace turnstone {

// Serves until the process is ended; logs its port as turnstoned does.
int ServeEcho();

}  // namespace turnstone

#include "platform/process.h"

#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/stat.h>

namespace turnstone {

void KeepToOurselves() {
  umask(077);
  // Less is always granted.
  const rlimit none{0, 0};
  setrlimit(RLIMIT_CORE, &none);
  prctl(PR_SET_DUMPABLE, 0, 0, 0, 0);
}

}  // namespace turnstone

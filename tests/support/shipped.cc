#include "tests/support/shipped.h"

#include <cstdio>
#include <cstdlib>
#include <map>

#include "platform/files.h"
#include "rules/check/load.h"

namespace turnstone {

v1::Configuration ShippedConfiguration() {
  const std::string root = TURNSTONE_SOURCE_DIR;
  std::map<std::string, std::string> files;
  for (const std::string folder : {"/rules", "/deploy/config"}) {
    files.merge(ReadTextprotos(root + folder).value());
  }
  LoadResult result = LoadConfiguration(files, {.complete = true});
  for (const Finding& finding : result.findings) {
    std::fprintf(stderr, "%s\n", finding.ToString().c_str());
  }
  if (!result.configuration) std::abort();
  return *std::move(result.configuration);
}

v1::Configuration WithoutSignOfLife() {
  v1::Configuration configuration = ShippedConfiguration();
  for (v1::SiteConfig& site : *configuration.mutable_site()) {
    site.clear_sign_of_life();
  }
  return configuration;
}

Setup ShippedSetup() { return Setup(ShippedConfiguration(), "shipped"); }

}  // namespace turnstone

// By which certificates callers are known.
#pragma once

#include <map>
#include <string>

#include "rules/check/place.h"
#include "rules/check/require.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// The `certificate_uri` of the person or system at `place`. `given`: those of
// the site so far.
void CheckCertificates(
    const google::protobuf::RepeatedPtrField<std::string>& uris,
    const Place& place, Names& given);

// Id of the caller by certificate_uri, at the sites looked at so far.
using CallersByUri = std::map<std::string, std::string>;

// A certificate is one caller's, at every site: otherwise whoever has it would
// be two people.
void CheckOneCallerEach(const v1::SiteConfig& site, const Place& file,
                        CallersByUri& callers);

}  // namespace turnstone

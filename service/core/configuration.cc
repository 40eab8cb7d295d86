#include "service/core/configuration.h"

#include <absl/strings/escaping.h>
#include <absl/strings/str_cat.h>
#include <google/protobuf/io/coded_stream.h>
#include <google/protobuf/io/zero_copy_stream_impl_lite.h>
#include <openssl/sha.h>

#include <set>

namespace turnstone {
namespace {

std::string Serialise(const v1::Configuration& configuration) {
  std::string bytes;
  google::protobuf::io::StringOutputStream stream(&bytes);
  google::protobuf::io::CodedOutputStream coded(&stream);
  coded.SetSerializationDeterministic(true);
  configuration.SerializeToCodedStream(&coded);
  coded.Trim();
  return bytes;
}

template <typename List>
absl::Status CheckKept(const List& current, const List& next,
                       const std::string& what) {
  std::set<std::string> kept;
  for (const auto& one : next) kept.insert(one.id());
  for (const auto& one : current) {
    if (kept.count(one.id()) == 0) {
      return absl::FailedPreconditionError(absl::StrCat(
          what, " \"", one.id(),
          "\" is in force but missing from the new "
          "configuration; put it back, so that what rests on it can be read"));
    }
  }
  return absl::OkStatus();
}

}  // namespace

std::string DigestOf(const v1::Configuration& configuration) {
  const std::string bytes = Serialise(configuration);
  std::string digest(SHA256_DIGEST_LENGTH, '\0');
  SHA256(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
         reinterpret_cast<unsigned char*>(digest.data()));
  return absl::BytesToHexString(digest);
}

absl::Status CheckSuccessor(const v1::Configuration& current,
                            const v1::Configuration& next) {
  absl::Status status =
      CheckKept(current.instrument(), next.instrument(), "instrument");
  if (!status.ok()) return status;
  return CheckKept(current.site(), next.site(), "site");
}

absl::Status CheckReadyForPeople(const v1::Configuration& configuration) {
  for (const v1::SiteConfig& site : configuration.site()) {
    if (site.immediate_danger().find("PLACEHOLDER") != std::string::npos) {
      return absl::FailedPreconditionError(absl::StrCat(
          "site \"", site.id(),
          "\": immediate_danger is still the "
          "PLACEHOLDER; write the site's own emergency number and words there "
          "before the service may run on real time"));
    }
  }
  return absl::OkStatus();
}

}  // namespace turnstone

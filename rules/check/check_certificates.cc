#include "rules/check/check_certificates.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>

namespace turnstone {
namespace {

constexpr size_t kUriBytesMax = 200;

// "scheme:rest" of printable ASCII (RFC 3986 section 3).
bool IsUri(const std::string& text) {
  const size_t colon = text.find(':');
  if (colon == std::string::npos || colon == 0 || colon + 1 == text.size() ||
      text.size() > kUriBytesMax) {
    return false;
  }
  const auto in_scheme = [](char c) {
    return absl::ascii_isalnum(static_cast<unsigned char>(c)) || c == '+' ||
           c == '-' || c == '.';
  };
  return absl::ascii_isalpha(static_cast<unsigned char>(text[0])) &&
         std::all_of(text.begin(),
                     text.begin() + static_cast<std::ptrdiff_t>(colon),
                     in_scheme) &&
         std::all_of(text.begin(), text.end(),
                     [](char c) { return c > ' ' && c <= '~'; });
}

template <typename Entries>
void LookAt(const Entries& entries, const std::string& field, const Place& file,
            CallersByUri& callers) {
  for (int i = 0; i < entries.size(); ++i) {
    const auto& entry = entries[i];
    for (int u = 0; u < entry.certificate_uri_size(); ++u) {
      const std::string& uri = entry.certificate_uri(u);
      const auto [first, is_new] = callers.emplace(uri, entry.id());
      if (is_new || first->second == entry.id()) continue;
      file.At(field, i)
          .At("certificate_uri", u)
          .Report(
              "certificate-of-another",
              absl::StrCat("\"", uri, "\" is ", first->second, "'s already"),
              "give each caller a certificate of their own, and the same "
              "id at every site");
    }
  }
}

}  // namespace

void CheckCertificates(
    const google::protobuf::RepeatedPtrField<std::string>& uris,
    const Place& place, Names& given) {
  for (int i = 0; i < uris.size(); ++i) {
    const Place at = place.At("certificate_uri", i);
    given.Add(at, uris[i]);
    if (IsUri(uris[i])) continue;
    at.Report("certificate-uri-wrong",
              absl::StrCat("certificate_uri \"", uris[i], "\" is no URI"),
              "write what stands as URI in the certificate's subjectAltName, "
              "at most 200 characters, such as "
              "\"spiffe://harbour-row.example/person/h.teasel\"");
  }
}

void CheckOneCallerEach(const v1::SiteConfig& site, const Place& file,
                        CallersByUri& callers) {
  LookAt(site.person(), "person", file, callers);
  LookAt(site.system(), "system", file, callers);
}

}  // namespace turnstone

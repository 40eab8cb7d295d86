// One exchange by libcurl, safe unless said otherwise.
#pragma once

#include <absl/status/status.h>
#include <curl/curl.h>

#include <memory>
#include <string>
#include <vector>

#include "service/deliver/curl_transport.h"

namespace turnstone {

// Thread-compatible. Begins with the timeouts, encryption and verification
// that CurlTransport promises.
class CurlCall {
 public:
  // `scheme`: the only protocol it may speak, "smtp" or "https".
  CurlCall(const char* scheme, const CurlOptions& options);

  // A failure is kept and comes out of Perform: nothing is ever sent with an
  // option missing.
  template <typename Value>
  void Set(CURLoption option, Value value) {
    if (code_ == CURLE_OK) {
      code_ = curl_easy_setopt(handle_.get(), option, value);
    }
  }
  // Trusts the certificates of the credentials' file instead of the system's;
  // an empty name changes nothing. Errors as Credentials::Read.
  [[nodiscard]] absl::Status TrustOnly(const std::string& ca_file,
                                       const Credentials& credentials);

  // Sends and receives; call it once.
  [[nodiscard]] CURLcode Perform();
  // What the server answered last; 0: nothing.
  [[nodiscard]] long Reply() const;
  // Whether it came as far as an encrypted connection.
  [[nodiscard]] bool Encrypted() const;

 private:
  std::unique_ptr<CURL, void (*)(CURL*)> handle_;
  CURLcode code_ = CURLE_OK;
};

// A list as libcurl takes it. Immutable.
class CurlList {
 public:
  explicit CurlList(const std::vector<std::string>& lines);
  // Null if memory ran out.
  [[nodiscard]] curl_slist* get() const { return list_.get(); }

 private:
  std::unique_ptr<curl_slist, void (*)(curl_slist*)> list_;
};

// Why an exchange failed, for people: no host, no address, no secret.
[[nodiscard]] std::string WordsFor(CURLcode code);

}  // namespace turnstone

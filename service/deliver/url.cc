#include "service/deliver/url.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <curl/curl.h>

#include <memory>

namespace turnstone {
namespace {

class Url {
 public:
  // A null `value` takes the part away.
  void Set(CURLUPart part, const char* value, unsigned flags = 0) {
    const CURLUcode code = curl_url_set(url_.get(), part, value, flags);
    if (code_ == CURLUE_OK) code_ = code;
  }

  [[nodiscard]] absl::StatusOr<std::string> Get(const char* advice) {
    char* text = nullptr;
    if (code_ == CURLUE_OK) {
      code_ =
          curl_url_get(url_.get(), CURLUPART_URL, &text, CURLU_NO_DEFAULT_PORT);
    }
    if (code_ != CURLUE_OK) return absl::FailedPreconditionError(advice);
    const std::unique_ptr<char, void (*)(void*)> owned(text, &curl_free);
    return std::string(owned.get());
  }

 private:
  std::unique_ptr<CURLU, void (*)(CURLU*)> url_{curl_url(), &curl_url_cleanup};
  CURLUcode code_ = CURLUE_OK;
};

}  // namespace

absl::StatusOr<std::string> SmtpUrl(const std::string& host, int port) {
  Url url;
  url.Set(CURLUPART_SCHEME, "smtp");
  url.Set(CURLUPART_HOST, host.c_str());
  url.Set(CURLUPART_PORT, absl::StrCat(port).c_str());
  return url.Get(
      "host and port name no server; write e.g. host: \"mail.example.org\" "
      "and port: 587");
}

absl::StatusOr<std::string> WebhookUrl(const std::string& url) {
  constexpr char kAdvice[] =
      "url is not one to send to; write e.g. "
      "\"https://hooks.example.org/turnstone\", without user and password";
  if (!absl::StartsWith(url, "https://")) {
    return absl::FailedPreconditionError(kAdvice);
  }
  Url parsed;
  parsed.Set(CURLUPART_URL, url.c_str(), CURLU_DISALLOW_USER);
  parsed.Set(CURLUPART_FRAGMENT, nullptr);
  return parsed.Get(kAdvice);
}

}  // namespace turnstone

#include "service/deliver/curl_call.h"

#include <absl/time/time.h>

namespace turnstone {
namespace {

long Millis(absl::Duration duration) {
  return static_cast<long>(absl::ToInt64Milliseconds(duration));
}

}  // namespace

CurlCall::CurlCall(const char* scheme, const CurlOptions& options)
    : handle_(curl_easy_init(), &curl_easy_cleanup) {
  if (handle_ == nullptr) {
    code_ = CURLE_FAILED_INIT;
    return;
  }
  Set(CURLOPT_PROTOCOLS_STR, scheme);
  Set(CURLOPT_FOLLOWLOCATION, 0L);
  // Not even one that the environment names.
  Set(CURLOPT_PROXY, "");
  // Timeouts without signals: other threads are under way.
  Set(CURLOPT_NOSIGNAL, 1L);
  Set(CURLOPT_CONNECTTIMEOUT_MS, Millis(options.connect_timeout));
  Set(CURLOPT_TIMEOUT_MS, Millis(options.whole_timeout));
  // A mail server is taken leave of even then, and libcurl would wait two
  // minutes for its answer to that.
  Set(CURLOPT_SERVER_RESPONSE_TIMEOUT,
      static_cast<long>(absl::ToInt64Seconds(
          absl::Ceil(options.whole_timeout, absl::Seconds(1)))));
  Set(CURLOPT_USE_SSL, long{CURLUSESSL_ALL});
  Set(CURLOPT_SSLVERSION, long{CURL_SSLVERSION_TLSv1_2});
  Set(CURLOPT_SSL_VERIFYPEER, 1L);
  Set(CURLOPT_SSL_VERIFYHOST, 2L);
}

absl::Status CurlCall::TrustOnly(const std::string& ca_file,
                                 const Credentials& credentials) {
  if (ca_file.empty()) return absl::OkStatus();
  absl::StatusOr<std::string> pem = credentials.Read(ca_file);
  if (!pem.ok()) return pem.status();
  curl_blob blob = {pem->data(), pem->size(), CURL_BLOB_COPY};
  Set(CURLOPT_CAINFO_BLOB, &blob);
  // The blob takes the place of the system's file, but not of its folder.
  Set(CURLOPT_CAPATH, static_cast<const char*>(nullptr));
  return absl::OkStatus();
}

CURLcode CurlCall::Perform() {
  if (code_ == CURLE_OK) code_ = curl_easy_perform(handle_.get());
  return code_;
}

long CurlCall::Reply() const {
  long reply = 0;
  curl_easy_getinfo(handle_.get(), CURLINFO_RESPONSE_CODE, &reply);
  return reply;
}

bool CurlCall::Encrypted() const {
  curl_off_t micros = 0;
  curl_easy_getinfo(handle_.get(), CURLINFO_APPCONNECT_TIME_T, &micros);
  return micros > 0;
}

CurlList::CurlList(const std::vector<std::string>& lines)
    : list_(nullptr, &curl_slist_free_all) {
  for (const std::string& line : lines) {
    curl_slist* longer = curl_slist_append(list_.get(), line.c_str());
    if (longer == nullptr) return;
    static_cast<void>(list_.release());  // it is the head of `longer`
    list_.reset(longer);
  }
}

std::string WordsFor(CURLcode code) {
  switch (code) {
    case CURLE_COULDNT_RESOLVE_HOST:
      return "the server's name could not be looked up; check the name, and "
             "the name service";
    case CURLE_COULDNT_CONNECT:
      return "the server could not be reached; check its name, its port and "
             "the network";
    case CURLE_OPERATION_TIMEDOUT:
      return "the server did not answer in time";
    case CURLE_USE_SSL_FAILED:
      return "the server offers no STARTTLS, so nothing was sent; have it "
             "switched on, or use another port";
    case CURLE_SSL_CONNECT_ERROR:
      return "no encrypted connection, TLS 1.2 or newer, could be made; check "
             "the port and the server's settings";
    case CURLE_PEER_FAILED_VERIFICATION:
      return "the server's certificate cannot be trusted: it has expired, is "
             "for another name, or is signed by nobody we trust; check the "
             "certificate and ca_file";
    case CURLE_SSL_CACERT_BADFILE:
      return "ca_file holds no certificate in PEM form";
    case CURLE_LOGIN_DENIED:
      return "the server refused the login; check user and password_file";
    case CURLE_GOT_NOTHING:
    case CURLE_SEND_ERROR:
    case CURLE_RECV_ERROR:
    case CURLE_PARTIAL_FILE:
      return "the connection broke off";
    default:
      return curl_easy_strerror(code);
  }
}

}  // namespace turnstone

#include "service/deliver/smtp.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "service/deliver/compose.h"
#include "service/deliver/curl_call.h"
#include "service/deliver/url.h"

namespace turnstone {
namespace {

struct Upload {
  const std::string& text;
  size_t sent = 0;
};

size_t ReadUpload(char* buffer, size_t size, size_t count, void* data) {
  Upload& upload = *static_cast<Upload*>(data);
  const size_t now = std::min(size * count, upload.text.size() - upload.sent);
  upload.text.copy(buffer, now, upload.sent);
  upload.sent += now;
  return now;
}

// Replies about the login (RFC 4954 section 6, RFC 3207): the next message
// would fare no better.
bool IsAboutLogin(long reply) {
  return reply == 530 || reply == 534 || reply == 535 || reply == 538;
}

// libcurl's codes for a server that does not take the sender, the recipient or
// "DATA", and for one that does not take the text. A server that refuses from
// its greeting on, before encryption, gives the second one as well.
absl::Status StatusOf(CURLcode code, const CurlCall& call) {
  if (code == CURLE_OK) return absl::OkStatus();
  const long reply = call.Reply();
  const bool about_message =
      call.Encrypted() &&
      (code == CURLE_SEND_ERROR || code == CURLE_WEIRD_SERVER_REPLY);
  if (!about_message || reply < 400) {
    return absl::UnavailableError(absl::StrCat("mail: ", WordsFor(code)));
  }
  if (IsAboutLogin(reply)) {
    return absl::UnavailableError(
        absl::StrCat("mail: the server wants another login (it answered ",
                     reply, "); check user and password_file"));
  }
  if (reply < 500) {
    return absl::UnavailableError(absl::StrCat(
        "mail: the server does not take it now (it answered ", reply, ")"));
  }
  return absl::InvalidArgumentError(absl::StrCat(
      "mail: the server refused it for good (it answered ", reply, ")"));
}

absl::Status SetLogin(const v1::Smtp& smtp, const Credentials& credentials,
                      CurlCall& call) {
  if (smtp.user().empty()) return absl::OkStatus();
  const absl::StatusOr<std::string> password =
      credentials.Read(smtp.password_file());
  if (!password.ok()) return password.status();
  call.Set(CURLOPT_USERNAME, smtp.user().c_str());
  call.Set(CURLOPT_PASSWORD, password->c_str());
  return absl::OkStatus();
}

absl::Status SetServer(const v1::Smtp& smtp, const Credentials& credentials,
                       CurlCall& call) {
  const absl::StatusOr<std::string> url = SmtpUrl(smtp.host(), smtp.port());
  if (!url.ok()) return url.status();
  call.Set(CURLOPT_URL, url->c_str());
  absl::Status status = call.TrustOnly(smtp.ca_file(), credentials);
  if (status.ok()) status = SetLogin(smtp, credentials, call);
  return status;
}

}  // namespace

absl::Status SendMail(const Envelope& envelope, const Credentials& credentials,
                      const CurlOptions& options) {
  const v1::Smtp& smtp = envelope.channel.smtp();
  const absl::StatusOr<std::string> mail = ComposeMail(envelope);
  if (!mail.ok()) return mail.status();
  CurlCall call("smtp", options);
  absl::Status status = SetServer(smtp, credentials, call);
  if (!status.ok()) return status;
  const CurlList to({envelope.address});
  Upload upload{*mail};
  call.Set(CURLOPT_MAIL_FROM, smtp.from().c_str());
  call.Set(CURLOPT_MAIL_RCPT, to.get());
  call.Set(CURLOPT_UPLOAD, 1L);
  call.Set(CURLOPT_READFUNCTION, &ReadUpload);
  call.Set(CURLOPT_READDATA, &upload);
  return StatusOf(call.Perform(), call);
}

}  // namespace turnstone

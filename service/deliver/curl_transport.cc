#include "service/deliver/curl_transport.h"

#include <curl/curl.h>

#include "service/deliver/smtp.h"
#include "service/deliver/webhook.h"

namespace turnstone {

CurlTransport::CurlTransport(Credentials credentials, CurlOptions options)
    : credentials_(std::move(credentials)), options_(options) {
  // Once for the whole process, before any other thread may need it.
  static const CURLcode ready = curl_global_init(CURL_GLOBAL_DEFAULT);
  static_cast<void>(ready);  // every CurlCall fails if this did
}

absl::Status CurlTransport::Send(const Envelope& envelope) {
  switch (envelope.channel.by_case()) {
    case v1::Channel::kSmtp:
      return SendMail(envelope, credentials_, options_);
    case v1::Channel::kWebhook:
      return PostWebhook(envelope, credentials_, options_);
    case v1::Channel::BY_NOT_SET:
      break;
  }
  return absl::InvalidArgumentError(
      "cannot be sent this way any more: the person or the channel has left "
      "the site's configuration");
}

}  // namespace turnstone

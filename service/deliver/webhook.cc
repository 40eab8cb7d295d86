#include "service/deliver/webhook.h"

#include <absl/strings/ascii.h>
#include <absl/strings/escaping.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <vector>

#include "service/deliver/compose.h"
#include "service/deliver/curl_call.h"
#include "service/deliver/http_signature.h"
#include "service/deliver/url.h"

namespace turnstone {
namespace {

constexpr size_t kSecretMin = 32;
constexpr size_t kAnswerMax = size_t{64} << 10;

absl::StatusOr<std::string> ReadSecret(const v1::Webhook& webhook,
                                       const Credentials& credentials) {
  const absl::StatusOr<std::string> text =
      credentials.Read(webhook.secret_file());
  if (!text.ok()) return text.status();
  std::string secret;
  if (absl::Base64Unescape(*text, &secret) && secret.size() >= kSecretMin) {
    return secret;
  }
  return absl::FailedPreconditionError(absl::StrCat(
      "the file \"", webhook.secret_file(), "\" does not hold ", kSecretMin,
      " bytes or more in base64; make one with: openssl rand -base64 -out ",
      webhook.secret_file(), " 32"));
}

absl::Status CheckKeyId(const std::string& key_id) {
  const bool fit =
      !key_id.empty() && std::all_of(key_id.begin(), key_id.end(), [](char c) {
        return absl::ascii_isprint(static_cast<unsigned char>(c));
      });
  if (fit) return absl::OkStatus();
  return absl::FailedPreconditionError(
      "key_id is empty or not plain ASCII; write e.g. \"turnstone-2027\"");
}

// The headers that vouch for the body, and say what it is.
std::vector<std::string> HeadersFor(const std::string& url,
                                    const std::string& body,
                                    const std::string& key_id,
                                    const std::string& secret, absl::Time now) {
  const std::string digest = ContentDigest(body);
  const std::vector<SignedComponent> covered = {
      {"@method", "POST"},
      {"@target-uri", url},
      {"content-digest", digest},
      {"content-type", kCloudEventType}};
  const std::string parameters =
      absl::StrCat(";created=", absl::ToUnixSeconds(now),
                   ";keyid=", QuotedString(key_id), ";alg=\"hmac-sha256\"");
  const std::string signature =
      Sign(secret, SignatureBase(covered, parameters));
  return {absl::StrCat("Content-Type: ", kCloudEventType),
          absl::StrCat("Content-Digest: ", digest),
          absl::StrCat("Signature-Input: turnstone=",
                       SignatureInput(covered, parameters)),
          absl::StrCat("Signature: turnstone=:", signature, ":"),
          // Not to wait for a "100 Continue".
          "Expect:"};
}

// Reads the answer without keeping it. Returning less than `count` ends it.
size_t Discard(char* /*text*/, size_t /*size*/, size_t count, void* data) {
  size_t& total = *static_cast<size_t*>(data);
  total += count;
  return total > kAnswerMax ? 0 : count;
}

absl::Status StatusOf(CURLcode code, long reply, size_t answer_bytes) {
  // We hung up on an answer that was too long; its first line counts.
  const bool cut = code == CURLE_WRITE_ERROR && answer_bytes > kAnswerMax;
  if (code != CURLE_OK && !cut) {
    return absl::UnavailableError(absl::StrCat("webhook: ", WordsFor(code)));
  }
  if (reply >= 200 && reply < 300) return absl::OkStatus();
  const std::string text =
      absl::StrCat("webhook: the receiver answered ", reply);
  const bool for_good = reply == 400 || reply == 410 || reply == 413 ||
                        reply == 415 || reply == 422;
  return for_good ? absl::InvalidArgumentError(text)
                  : absl::UnavailableError(text);
}

}  // namespace

absl::Status PostWebhook(const Envelope& envelope,
                         const Credentials& credentials,
                         const CurlOptions& options) {
  const v1::Webhook& webhook = envelope.channel.webhook();
  const absl::StatusOr<std::string> url = WebhookUrl(webhook.url());
  if (!url.ok()) return url.status();
  absl::Status status = CheckKeyId(webhook.key_id());
  if (!status.ok()) return status;
  const absl::StatusOr<std::string> secret = ReadSecret(webhook, credentials);
  if (!secret.ok()) return secret.status();
  CurlCall call("https", options);
  status = call.TrustOnly(webhook.ca_file(), credentials);
  if (!status.ok()) return status;

  const std::string body = ComposeCloudEvent(envelope);
  const CurlList headers(
      HeadersFor(*url, body, webhook.key_id(), *secret, envelope.now));
  size_t answer_bytes = 0;
  call.Set(CURLOPT_URL, url->c_str());
  call.Set(CURLOPT_HTTPHEADER, headers.get());
  call.Set(CURLOPT_POSTFIELDSIZE, static_cast<long>(body.size()));
  call.Set(CURLOPT_POSTFIELDS, body.c_str());
  call.Set(CURLOPT_WRITEFUNCTION, &Discard);
  call.Set(CURLOPT_WRITEDATA, &answer_bytes);
  const CURLcode code = call.Perform();
  return StatusOf(code, call.Reply(), answer_bytes);
}

}  // namespace turnstone

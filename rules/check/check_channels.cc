#include "rules/check/check_channels.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/check/plausible.h"
#include "rules/check/require.h"

namespace turnstone {
namespace {

constexpr char kHttps[] = "https://";

// `name`, the value of `field`, may be empty.
void CheckFileName(const Place& place, const std::string& field,
                   const std::string& name) {
  if (IsFileName(name)) return;
  place.At(field).Report(
      "file-name-wrong",
      absl::StrCat(field, " \"", name, "\" is not the name of a file"),
      "write a name without slash or space that does not begin with a dot; the "
      "file lies in the service's credentials folder");
}

void CheckSmtp(const v1::Smtp& smtp, const Place& place) {
  if (RequireText(place, "host", "the name of the mail server") &&
      !IsHost(smtp.host())) {
    place.At("host").Report(
        "address-wrong",
        absl::StrCat("host \"", smtp.host(), "\" is no name of a machine"),
        "write it without port, such as \"mail.harbour-row.example\"");
  }
  RequireNumber(place, "port", {1, 65535});
  if (RequireText(place, "from", "the address the messages come from") &&
      !IsMailAddress(smtp.from())) {
    place.At("from").Report(
        "address-wrong",
        absl::StrCat("from \"", smtp.from(), "\" is no e-mail address"),
        "write it without a name or brackets, such as "
        "\"alerts@harbour-row.example\"");
  }
  if (smtp.user().empty() != smtp.password_file().empty()) {
    place.Report("login-incomplete",
                 "user and password_file belong together, and one is missing",
                 "write both, or neither where the server asks for no login");
  }
  CheckFileName(place, "password_file", smtp.password_file());
  CheckFileName(place, "ca_file", smtp.ca_file());
}

// Not repeated in the message: it may hold a password.
void CheckUrl(const std::string& url, const Place& place) {
  const auto is_graphic = [](char letter) {
    return absl::ascii_isgraph(static_cast<unsigned char>(letter));
  };
  if (!url.starts_with(kHttps) ||
      !std::all_of(url.begin(), url.end(), is_graphic)) {
    place.Report(
        "web-address-wrong", "url is no address that begins with \"https://\"",
        "write one such as \"https://hooks.harbour-row.example/alerts\"");
    return;
  }
  const std::string rest = url.substr(sizeof(kHttps) - 1);
  const std::string host = rest.substr(0, rest.find_first_of("/?#"));
  if (host.find('@') != std::string::npos) {
    place.Report("login-in-web-address", "url holds a user or a password",
                 "leave it out; messages are signed with secret_file");
  } else if (!IsHostAndPort(host)) {
    place.Report(
        "web-address-wrong", "url names no machine",
        "write one such as \"https://hooks.harbour-row.example/alerts\"");
  }
  if (url.find('#') != std::string::npos) {
    place.Report("web-address-wrong", "url holds a \"#\"",
                 "leave it out, and what comes after it");
  }
}

void CheckWebhook(const v1::Webhook& webhook, const Place& place) {
  if (RequireText(place, "url", "where to send messages")) {
    CheckUrl(webhook.url(), place.At("url"));
  }
  if (RequireText(place, "key_id", "what tells the receiver which secret") &&
      !IsKeyId(webhook.key_id())) {
    place.At("key_id").Report(
        "key-id-wrong",
        absl::StrCat("key_id \"", webhook.key_id(), "\" cannot be sent"),
        "write 1 to 100 printable ASCII characters without space, quote or "
        "backslash, such as \"turnstone-2027\"");
  }
  if (RequireText(place, "secret_file",
                  "the name of the file with the secret")) {
    CheckFileName(place, "secret_file", webhook.secret_file());
  }
  CheckFileName(place, "ca_file", webhook.ca_file());
}

}  // namespace

void CheckChannels(const v1::SiteConfig& site, const Place& file) {
  Names ids("channel");
  for (int i = 0; i < site.channel_size(); ++i) {
    const v1::Channel& channel = site.channel(i);
    const Place place = file.At("channel", i);
    RequireId(place, "id");
    ids.Add(place.At("id"), channel.id());
    if (channel.has_smtp()) CheckSmtp(channel.smtp(), place.At("smtp"));
    if (channel.has_webhook()) {
      CheckWebhook(channel.webhook(), place.At("webhook"));
    }
    if (channel.by_case() != v1::Channel::BY_NOT_SET) continue;
    place.Report("channel-empty",
                 "the channel does not say by what messages leave",
                 "write smtp { ... } or webhook { ... }");
  }
}

}  // namespace turnstone

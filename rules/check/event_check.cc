#include "rules/check/event_check.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include "rules/check/event_time.h"
#include "rules/check/field_error.h"
#include "rules/check/payload_check.h"

namespace turnstone {
namespace {

constexpr size_t kLongestEventId = 100;
constexpr size_t kLongestParticipant = 64;
constexpr int kLongestReason = 200;

// What every event has in common, its payload apart.
absl::Status CheckEnvelope(const v1::Event& event, const std::string& prefix,
                           absl::Time now) {
  absl::Status status = CheckSource(prefix + "source", event.source());
  if (!status.ok()) return status;
  status =
      CheckIdentifier(prefix + "eventId", event.event_id(), kLongestEventId);
  if (!status.ok()) return status;
  status = CheckIdentifier(prefix + "participant", event.participant(),
                           kLongestParticipant);
  if (!status.ok()) return status;
  const std::string time = prefix + "effectiveTime";
  if (!event.has_effective_time()) {
    return FieldError(time, "is missing",
                      "when it happened, such as \"2027-03-17T09:30:00Z\"");
  }
  return CheckHappened(time, event.effective_time(), now);
}

absl::Status CheckSite(const v1::Event& event, const Setup& setup) {
  if (event.site().empty()) {
    return FieldError("site", "is missing", "the id of the participant's site");
  }
  if (setup.FindSite(event.site()) != nullptr) return absl::OkStatus();
  return absl::NotFoundError(
      "site is not a site of this service; send the id of one that is "
      "configured");
}

absl::Status Differs(const std::string& field, const std::string& from) {
  return FieldError("correction.replacement." + field,
                    absl::StrCat("differs from ", from),
                    "the same, or withdraw the event and send a new one");
}

// The replacement stands for the very event it mends.
absl::Status CheckSameEvent(const v1::Event& event) {
  const v1::Correction& correction = event.correction();
  const v1::Event& replacement = correction.replacement();
  if (replacement.source() != correction.corrected_source()) {
    return Differs("source", "correction.correctedSource");
  }
  if (replacement.event_id() != correction.corrected_event_id()) {
    return Differs("eventId", "correction.correctedEventId");
  }
  if (replacement.site() != event.site()) return Differs("site", "site");
  if (replacement.participant() != event.participant()) {
    return Differs("participant", "participant");
  }
  return absl::OkStatus();
}

absl::Status CheckReplacement(const v1::Event& event,
                              const Catalogue& catalogue, absl::Time now) {
  const v1::Event& replacement = event.correction().replacement();
  const std::string prefix = "correction.replacement.";
  if (replacement.has_correction()) {
    return FieldError(prefix + "correction", "stands inside a correction",
                      "what the first event should have said");
  }
  absl::Status status = CheckSameEvent(event);
  if (!status.ok()) return status;
  status = CheckEnvelope(replacement, prefix, now);
  if (!status.ok()) return status;
  return CheckPayload(replacement, prefix, catalogue);
}

// Characters, not bytes: bytes that continue one are not counted.
int Letters(const std::string& utf8) {
  int letters = 0;
  for (const char byte : utf8) {
    if ((static_cast<unsigned char>(byte) & 0xC0U) != 0x80U) ++letters;
  }
  return letters;
}

absl::Status CheckReason(const std::string& reason) {
  const std::string send =
      absl::StrCat("1 to ", kLongestReason,
                   " characters on why, without anything that identifies the "
                   "participant");
  if (absl::StripAsciiWhitespace(reason).empty()) {
    return FieldError("correction.reason", "is missing", send);
  }
  if (Letters(reason) > kLongestReason) {
    return FieldError("correction.reason", "is too long", send);
  }
  return absl::OkStatus();
}

absl::Status CheckCorrection(const v1::Event& event, const Catalogue& catalogue,
                             absl::Time now) {
  const v1::Correction& correction = event.correction();
  absl::Status status =
      CheckSource("correction.correctedSource", correction.corrected_source());
  if (!status.ok()) return status;
  status = CheckIdentifier("correction.correctedEventId",
                           correction.corrected_event_id(), kLongestEventId);
  if (!status.ok()) return status;
  status = CheckReason(correction.reason());
  if (!status.ok()) return status;
  switch (correction.change_case()) {
    case v1::Correction::kReplacement:
      return CheckReplacement(event, catalogue, now);
    case v1::Correction::kWithdrawn:
      if (correction.withdrawn()) return absl::OkStatus();
      return FieldError("correction.withdrawn", "is false",
                        "true, or replacement instead");
    case v1::Correction::CHANGE_NOT_SET:
      break;
  }
  return FieldError(
      "correction",
      "says neither that the event is withdrawn nor what replaces it",
      "withdrawn: true, or replacement");
}

}  // namespace

absl::Status CheckEventContent(const v1::Event& event,
                               const Catalogue& catalogue, absl::Time now) {
  absl::Status status = CheckEnvelope(event, "", now);
  if (!status.ok()) return status;
  if (event.has_correction()) return CheckCorrection(event, catalogue, now);
  return CheckPayload(event, "", catalogue);
}

absl::Status CheckEvent(const v1::Event& event, const Setup& setup,
                        absl::Time now) {
  absl::Status status = CheckSite(event, setup);
  if (!status.ok()) return status;
  return CheckEventContent(event, setup.catalogue(), now);
}

}  // namespace turnstone

#include "service/store/audit_checkpoint.h"

#include <absl/strings/escaping.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include "service/store/audit_chain.h"

namespace turnstone {
namespace {

struct Line {
  int64_t sequence = 0;
  std::string chain;  // in hexadecimal, as `signature`
  std::string at;
  std::string signature;
};

std::string SignedText(const Line& line) {
  return absl::StrCat("turnstone audit checkpoint 1\n", line.sequence, "\n",
                      line.chain, "\n", line.at, "\n");
}

bool IsHex(const std::string& text, size_t bytes) {
  return text.size() == 2 * bytes &&
         text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

std::optional<Line> ParseLine(const std::string& text) {
  const nlohmann::json json =
      nlohmann::json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (!json.is_object() || json.size() != 4) return std::nullopt;
  for (const char* name : {"chain", "at", "signature"}) {
    if (!json.contains(name) || !json[name].is_string()) return std::nullopt;
  }
  if (!json.contains("sequence") || !json["sequence"].is_number_unsigned()) {
    return std::nullopt;
  }
  Line line{json["sequence"], json["chain"], json["at"], json["signature"]};
  if (line.sequence < 1 || !IsHex(line.chain, ChainBegin().size()) ||
      !IsHex(line.signature, kSignatureBytes)) {
    return std::nullopt;
  }
  return line;
}

absl::Status Failed(const std::string& what, const std::string& path) {
  return absl::UnavailableError(
      absl::StrCat("cannot ", what, " ", path, ": ", std::strerror(errno)));
}

absl::Status SyncFolderOf(const std::string& path) {
  const std::string folder = std::filesystem::path(path).parent_path().string();
  const int fd = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  const bool done = fd >= 0 && fsync(fd) == 0;
  absl::Status status =
      done ? absl::OkStatus() : Failed("sync the folder", folder);
  if (fd >= 0) close(fd);
  return status;
}

// Where the last whole line ends.
absl::StatusOr<off_t> EndOfLines(int fd, const std::string& path) {
  off_t end = lseek(fd, 0, SEEK_END);
  char last = '\0';
  while (end > 0) {
    if (pread(fd, &last, 1, end - 1) != 1) return Failed("read", path);
    if (last == '\n') break;
    --end;
  }
  if (end < 0) return Failed("read", path);
  return end;
}

absl::Status AppendTo(int fd, const std::string& path,
                      const std::string& line) {
  const absl::StatusOr<off_t> end = EndOfLines(fd, path);
  if (!end.ok()) return end.status();
  if (ftruncate(fd, *end) != 0) return Failed("write", path);
  const ssize_t written = pwrite(fd, line.data(), line.size(), *end);
  // What is half written is taken off by the next one.
  if (written != static_cast<ssize_t>(line.size())) {
    return Failed("write", path);
  }
  return fsync(fd) == 0 ? absl::OkStatus() : Failed("sync", path);
}

}  // namespace

absl::StatusOr<std::string> CheckpointLine(const AuditTip& tip, absl::Time at,
                                           const SigningKey& key) {
  Line line;
  line.sequence = tip.sequence;
  line.chain = absl::BytesToHexString(tip.chain);
  line.at = absl::FormatTime("%Y-%m-%dT%H:%M:%E6SZ", at, absl::UTCTimeZone());
  const absl::StatusOr<std::string> signature = key.Sign(SignedText(line));
  if (!signature.ok()) return signature.status();
  return absl::StrCat("{\"sequence\":", line.sequence, ",\"chain\":\"",
                      line.chain, "\",\"at\":\"", line.at,
                      "\",\"signature\":\"", absl::BytesToHexString(*signature),
                      "\"}\n");
}

absl::Status AppendCheckpoint(const std::string& path,
                              const std::string& line) {
  const int fd = open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (fd < 0) return Failed("open", path);
  absl::Status status = AppendTo(fd, path, line);
  close(fd);
  return status.ok() ? SyncFolderOf(path) : status;
}

absl::StatusOr<int64_t> ReadCheckpoints(const std::string& text,
                                        const PublicKey& key,
                                        AuditVerifier& verifier) {
  std::vector<std::string> lines = absl::StrSplit(text, '\n');
  lines.pop_back();
  std::map<int64_t, std::string> known;
  int64_t number = 0;
  for (const std::string& each : lines) {
    ++number;
    const auto wrong = [number](const std::string& what) {
      return absl::InvalidArgumentError(absl::StrCat("line ", number, what));
    };
    const std::optional<Line> line = ParseLine(each);
    if (!line) return wrong(" is no checkpoint");
    if (!key.Signed(SignedText(*line),
                    absl::HexStringToBytes(line->signature))) {
      return wrong(
          ": its signature is not by this key; it was forged or changed, or "
          "this is not the key's public half");
    }
    const auto [before, is_new] = known.emplace(line->sequence, line->chain);
    if (!is_new && before->second != line->chain) {
      return wrong(absl::StrCat(" gives record ", line->sequence,
                                " another digest than a line before it does: "
                                "the audit was written anew in between, as it "
                                "is after a restore"));
    }
    verifier.Expect(line->sequence, absl::HexStringToBytes(line->chain));
  }
  return number;
}

}  // namespace turnstone

// Against the published examples of the standards.
#include "service/deliver/http_signature.h"

#include <absl/strings/escaping.h>
#include <gtest/gtest.h>

#include "service/core/digest.h"

namespace turnstone {
namespace {

// RFC 9421 appendix B.2.5, with the key of appendix B.1.5.
const std::vector<SignedComponent> kPublished = {
    {"date", "Tue, 20 Apr 2021 02:07:55 GMT"},
    {"@authority", "example.com"},
    {"content-type", "application/json"}};
constexpr char kPublishedParameters[] =
    ";created=1618884473;keyid=\"test-shared-secret\"";
constexpr char kPublishedBase[] =
    "\"date\": Tue, 20 Apr 2021 02:07:55 GMT\n"
    "\"@authority\": example.com\n"
    "\"content-type\": application/json\n"
    "\"@signature-params\": (\"date\" \"@authority\" \"content-type\")"
    ";created=1618884473;keyid=\"test-shared-secret\"";
constexpr char kPublishedKey[] =
    "uzvJfB4u3N0Jy4T7NZ75MDVcr8zSTInedJtkgcu46YW4XByzNJjxBdtjUkdJPBtbmHhIDi6p"
    "cl8jsasjlTMtDQ==";
constexpr char kPublishedSignature[] =
    "pxcQw6G3AjtMBQjwo8XzkZf/bws5LelbaMk5rGIGtE8=";

TEST(HttpSignatureTest, BaseIsAsPublished) {
  EXPECT_EQ(SignatureBase(kPublished, kPublishedParameters), kPublishedBase);
}

TEST(HttpSignatureTest, SignatureIsAsPublished) {
  std::string key;
  ASSERT_TRUE(absl::Base64Unescape(kPublishedKey, &key));
  EXPECT_EQ(Sign(key, kPublishedBase), kPublishedSignature);
}

// RFC 9530 appendix B.
TEST(HttpSignatureTest, ContentDigestIsAsPublished) {
  EXPECT_EQ(ContentDigest("{\"hello\": \"world\"}"),
            "sha-256=:X48E9qOokqqrvdts8nOJRJN3OWDUoyWxBf7kbu9DBPE=:");
  EXPECT_EQ(ContentDigest("{\"hello\": \"world\"}\n"),
            "sha-256=:RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:");
}

// RFC 8941 section 3.3.3.
TEST(HttpSignatureTest, QuotesAndBackslashesAreEscaped) {
  EXPECT_EQ(QuotedString("a\"b\\c"), "\"a\\\"b\\\\c\"");
}

// RFC 4231 section 4.3, test case 2.
TEST(DigestTest, HmacIsAsPublished) {
  EXPECT_EQ(absl::BytesToHexString(
                HmacSha256("Jefe", "what do ya want for nothing?")),
            "5bdcc146bf60754e6a042426089575c7"
            "5a003f089d2739839dec58b964ec3843");
}

}  // namespace
}  // namespace turnstone

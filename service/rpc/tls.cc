#include "service/rpc/tls.h"

#include <absl/strings/str_cat.h>
#include <grpcpp/security/tls_certificate_provider.h>
#include <grpcpp/security/tls_credentials_options.h>
#include <openssl/pem.h>
#include <openssl/x509.h>

#include "platform/files.h"

namespace turnstone {
namespace {

constexpr unsigned int kLookAgainSeconds = 1;

using Bio = std::unique_ptr<BIO, decltype(&BIO_free)>;
using Certificate = std::unique_ptr<X509, decltype(&X509_free)>;
using Key = std::unique_ptr<EVP_PKEY, decltype(&EVP_PKEY_free)>;

Bio Open(const std::string& pem) {
  return Bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())),
             &BIO_free);
}

// A key that is encrypted is none: nobody is there to type the password.
int NoPassword(char* /*buffer*/, int /*size*/, int /*writing*/,
               void* /*data*/) {
  return 0;
}

absl::StatusOr<Certificate> ReadCertificate(const std::string& path) {
  const absl::StatusOr<std::string> pem = ReadFile(path);
  if (!pem.ok()) return absl::InvalidArgumentError(pem.status().message());
  const Bio bio = Open(*pem);
  Certificate read(PEM_read_bio_X509(bio.get(), nullptr, &NoPassword, nullptr),
                   &X509_free);
  if (read != nullptr) return read;
  return absl::InvalidArgumentError(
      absl::StrCat(path, ": holds no certificate; it must be a PEM file"));
}

absl::StatusOr<Key> ReadKey(const std::string& path) {
  const absl::StatusOr<std::string> pem = ReadFile(path);
  if (!pem.ok()) return absl::InvalidArgumentError(pem.status().message());
  const Bio bio = Open(*pem);
  Key read(PEM_read_bio_PrivateKey(bio.get(), nullptr, &NoPassword, nullptr),
           &EVP_PKEY_free);
  if (read != nullptr) return read;
  return absl::InvalidArgumentError(absl::StrCat(
      path, ": holds no private key; it must be a PEM file without password"));
}

absl::Status CheckFiles(const TlsFiles& files) {
  const absl::StatusOr<Certificate> certificate =
      ReadCertificate(files.certificate);
  if (!certificate.ok()) return certificate.status();
  const absl::StatusOr<Key> key = ReadKey(files.key);
  if (!key.ok()) return key.status();
  if (X509_check_private_key(certificate->get(), key->get()) != 1) {
    return absl::InvalidArgumentError(
        absl::StrCat(files.key, ": is not the key of ", files.certificate));
  }
  return ReadCertificate(files.client_ca).status();
}

}  // namespace

absl::StatusOr<std::shared_ptr<grpc::ServerCredentials>> EncryptedWayIn(
    const TlsFiles& files) {
  if (absl::Status status = CheckFiles(files); !status.ok()) return status;
  const auto provider =
      std::make_shared<grpc::experimental::FileWatcherCertificateProvider>(
          files.key, files.certificate, files.client_ca, kLookAgainSeconds);
  grpc::experimental::TlsServerCredentialsOptions options(provider);
  options.watch_root_certs();
  options.watch_identity_key_cert_pairs();
  options.set_cert_request_type(
      GRPC_SSL_REQUEST_AND_REQUIRE_CLIENT_CERTIFICATE_AND_VERIFY);
  return grpc::experimental::TlsServerCredentials(options);
}

}  // namespace turnstone

#include "server/authority.hpp"

#include <openssl/bio.h>
#include <openssl/err.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509_vfy.h>
#include <openssl/x509v3.h>

#include <array>
#include <filesystem>
#include <memory>
#include <stdexcept>

#include "base/file.hpp"
#include "base/sha256.hpp"
#include "messages/server.hpp"
#include "server/secrets.hpp"

namespace zoneproof::server {

namespace {

namespace fs = std::filesystem;

template <auto Free>
struct Freed {
  template <class T>
  void operator()(T* one) const {
    Free(one);
  }
};
using Key = std::unique_ptr<EVP_PKEY, Freed<EVP_PKEY_free>>;
using Certificate = std::unique_ptr<X509, Freed<X509_free>>;
using Memory = std::unique_ptr<BIO, Freed<BIO_free>>;
using Extension = std::unique_ptr<X509_EXTENSION, Freed<X509_EXTENSION_free>>;
using Store = std::unique_ptr<X509_STORE, Freed<X509_STORE_free>>;
using Verifying = std::unique_ptr<X509_STORE_CTX, Freed<X509_STORE_CTX_free>>;

constexpr long kDay_s = 24L * 60L * 60L;
constexpr long kAuthorityLasts_s = 3650L * kDay_s;
constexpr long kCertificateLasts_s = 800L * kDay_s;  // phones refuse what is made for more than 825 days
constexpr long kRenewedBefore_s = 30L * kDay_s;
constexpr long kClocksApart_s = kDay_s;  // a phone's clock may be behind
constexpr int kSerialBits = 127;

/// What every network of one's own may use (RFC 1918, 3927, 4193, 4291), and the names of local networks (RFC 6761,
/// 6762, 8375).
constexpr const char* kPrivate =
    "permitted;IP:10.0.0.0/255.0.0.0,permitted;IP:172.16.0.0/255.240.0.0,permitted;IP:192.168.0.0/255.255.0.0,"
    "permitted;IP:169.254.0.0/255.255.0.0,permitted;IP:100.64.0.0/255.192.0.0,permitted;IP:127.0.0.0/255.0.0.0,"
    "permitted;IP:fc00:0:0:0:0:0:0:0/fe00:0:0:0:0:0:0:0,permitted;IP:fe80:0:0:0:0:0:0:0/ffc0:0:0:0:0:0:0:0,"
    "permitted;IP:0:0:0:0:0:0:0:1/ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff,"
    "permitted;DNS:localhost,permitted;DNS:local,permitted;DNS:home.arpa,permitted;DNS:lan,permitted;DNS:internal";

[[noreturn]] void broken(const char* what) {
  std::array<char, 256> words{};
  ERR_error_string_n(ERR_get_error(), words.data(), words.size());
  throw std::runtime_error(std::string(what) + ": " + words.data());
}

void must(int done, const char* what) {
  if (done <= 0) broken(what);
}

Key new_key() {
  Key key(EVP_EC_gen("P-256"));
  if (!key) broken("EVP_EC_gen");
  return key;
}

std::string text_of(BIO* memory) {
  char* begin = nullptr;
  const long size = BIO_get_mem_data(memory, &begin);
  return {begin, static_cast<std::size_t>(size)};
}

std::string pem_of(EVP_PKEY* key) {
  const Memory memory(BIO_new(BIO_s_mem()));
  must(PEM_write_bio_PKCS8PrivateKey(memory.get(), key, nullptr, nullptr, 0, nullptr, nullptr), "PEM");
  return text_of(memory.get());
}

std::string pem_of(X509* certificate) {
  const Memory memory(BIO_new(BIO_s_mem()));
  must(PEM_write_bio_X509(memory.get(), certificate), "PEM");
  return text_of(memory.get());
}

std::string der_of(X509* certificate) {
  const Memory memory(BIO_new(BIO_s_mem()));
  must(i2d_X509_bio(memory.get(), certificate), "DER");
  return text_of(memory.get());
}

Memory reading(const std::string& text) { return Memory(BIO_new_mem_buf(text.data(), static_cast<int>(text.size()))); }

Key key_from(const std::string& pem) {
  return Key(PEM_read_bio_PrivateKey(reading(pem).get(), nullptr, nullptr, nullptr));
}

Certificate certificate_from(const std::string& pem) {
  return Certificate(PEM_read_bio_X509(reading(pem).get(), nullptr, nullptr, nullptr));
}

void add_extension(X509* to, X509* issuer, int kind, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, issuer, to, nullptr, nullptr, 0);
  const Extension extension(X509V3_EXT_conf_nid(nullptr, &context, kind, value.c_str()));
  if (!extension) broken(value.c_str());
  must(X509_add_ext(to, extension.get(), -1), "X509_add_ext");
}

void set_serial(X509* certificate) {
  std::unique_ptr<BIGNUM, Freed<BN_free>> number(BN_new());
  must(BN_rand(number.get(), kSerialBits, BN_RAND_TOP_ANY, BN_RAND_BOTTOM_ANY), "BN_rand");
  if (BN_to_ASN1_INTEGER(number.get(), X509_get_serialNumber(certificate)) == nullptr) broken("serial");
}

void set_name(X509_NAME* name, const std::string& common) {
  auto add = [&](const char* field, const std::string& text) {
    must(X509_NAME_add_entry_by_txt(name, field, MBSTRING_UTF8, reinterpret_cast<const unsigned char*>(text.data()),
                                    static_cast<int>(text.size()), -1, 0),
         field);
  };
  add("O", "zoneproof");
  add("CN", common.substr(0, 64));
}

Certificate begun(EVP_PKEY* key, const std::string& common, long lasts_s) {
  Certificate made(X509_new());
  must(X509_set_version(made.get(), 2), "version");
  set_serial(made.get());
  X509_gmtime_adj(X509_getm_notBefore(made.get()), -kClocksApart_s);
  X509_gmtime_adj(X509_getm_notAfter(made.get()), lasts_s);
  must(X509_set_pubkey(made.get(), key), "key");
  set_name(X509_get_subject_name(made.get()), common);
  return made;
}

std::string permitted_for(const Called& called) {
  std::string all = kPrivate;
  for (const std::string& name : called.names) all += ",permitted;DNS:" + name;
  return all;
}

Certificate new_authority(EVP_PKEY* key, const Called& called) {
  const std::string machine = called.names.empty() ? std::string("authority") : *called.names.begin();
  Certificate made = begun(key, "zoneproof on " + machine, kAuthorityLasts_s);
  must(X509_set_issuer_name(made.get(), X509_get_subject_name(made.get())), "issuer");
  add_extension(made.get(), made.get(), NID_basic_constraints, "critical,CA:TRUE,pathlen:0");
  add_extension(made.get(), made.get(), NID_key_usage, "critical,keyCertSign,cRLSign");
  add_extension(made.get(), made.get(), NID_subject_key_identifier, "hash");
  add_extension(made.get(), made.get(), NID_name_constraints, "critical," + permitted_for(called));
  must(X509_sign(made.get(), key, EVP_sha256()), "sign");
  return made;
}

Certificate new_certificate(EVP_PKEY* key, X509* authority, EVP_PKEY* authority_key, const Called& called) {
  Certificate made = begun(key, "zoneproof", kCertificateLasts_s);
  must(X509_set_issuer_name(made.get(), X509_get_subject_name(authority)), "issuer");
  std::string names = "DNS:localhost,IP:127.0.0.1,IP:::1";
  for (const std::string& name : called.names) names += ",DNS:" + name;
  for (const std::string& address : called.addresses) names += ",IP:" + address;
  add_extension(made.get(), authority, NID_basic_constraints, "critical,CA:FALSE");
  add_extension(made.get(), authority, NID_key_usage, "critical,digitalSignature");
  add_extension(made.get(), authority, NID_ext_key_usage, "serverAuth");
  add_extension(made.get(), authority, NID_subject_alt_name, names);
  add_extension(made.get(), authority, NID_subject_key_identifier, "hash");
  add_extension(made.get(), authority, NID_authority_key_identifier, "keyid");
  must(X509_sign(made.get(), authority_key, EVP_sha256()), "sign");
  return made;
}

/// Empty where the authority may have made the certificate, else what speaks against it.
std::string verified(X509* certificate, X509* authority) {
  const Store store(X509_STORE_new());
  must(X509_STORE_add_cert(store.get(), authority), "store");
  const Verifying verifying(X509_STORE_CTX_new());
  must(X509_STORE_CTX_init(verifying.get(), store.get(), certificate, nullptr), "verify");
  if (X509_verify_cert(verifying.get()) == 1) return {};
  return X509_verify_cert_error_string(X509_STORE_CTX_get_error(verifying.get()));
}

bool is_for(X509* certificate, const Called& called) {
  for (const std::string& name : called.names)
    if (X509_check_host(certificate, name.c_str(), name.size(), 0, nullptr) != 1) return false;
  for (const std::string& address : called.addresses)
    if (X509_check_ip_asc(certificate, address.c_str(), 0) != 1) return false;
  time_t later = time(nullptr) + kRenewedBefore_s;
  return X509_cmp_time(X509_get0_notAfter(certificate), &later) > 0;
}

/// Key and certificate as they stand in a folder.
class Pair {
 public:
  Pair(const std::string& folder, const std::string& name)
      : key_path_((fs::path(folder) / (name + ".key")).string()),
        certificate_path_((fs::path(folder) / (name + ".pem")).string()) {}

  Key key;
  Certificate certificate;

  bool there() const {
    std::error_code fault;
    return fs::exists(key_path_, fault) && fs::exists(certificate_path_, fault);
  }
  bool read(std::vector<Message>& problems) {
    if (auto problem = open_to_others(key_path_)) {
      problems.push_back(std::move(*problem));
      return false;
    }
    const auto key_text = read_file(key_path_, problems);
    const auto certificate_text = read_file(certificate_path_, problems);
    if (!key_text || !certificate_text) return false;
    key = key_from(*key_text);
    certificate = certificate_from(*certificate_text);
    if (key && certificate && X509_check_private_key(certificate.get(), key.get()) == 1) return true;
    ERR_clear_error();
    problems.push_back(say::server_key_file_bad(key_path_));
    return false;
  }
  bool save(std::vector<Message>& problems) const {
    for (auto problem :
         {save_secret(key_path_, pem_of(key.get())), save_secret(certificate_path_, pem_of(certificate.get()))})
      if (problem) problems.push_back(std::move(*problem));
    return problems.empty();
  }

 private:
  std::string key_path_, certificate_path_;
};

bool have_authority(Pair& authority, const Called& called, std::vector<Message>& problems) {
  if (authority.there()) return authority.read(problems);
  authority.key = new_key();
  authority.certificate = new_authority(authority.key.get(), called);
  return authority.save(problems);
}

bool have_certificate(Pair& server, const Pair& authority, const Called& called, std::vector<Message>& problems) {
  std::vector<Message> stale;  // whatever is wrong with the old one: a new one is made
  if (server.there() && server.read(stale) && is_for(server.certificate.get(), called) &&
      verified(server.certificate.get(), authority.certificate.get()).empty())
    return true;
  server.key = new_key();
  server.certificate = new_certificate(server.key.get(), authority.certificate.get(), authority.key.get(), called);
  const std::string fault = verified(server.certificate.get(), authority.certificate.get());
  if (fault.empty()) return server.save(problems);
  std::vector<std::string> all(called.names.begin(), called.names.end());
  all.insert(all.end(), called.addresses.begin(), called.addresses.end());
  problems.push_back(say::server_authority_not_for(all, fault));
  return false;
}

}  // namespace

std::optional<Authority> authority_of(const std::string& folder, const Called& called, std::vector<Message>& problems) {
  Pair authority(folder, "authority"), server(folder, "server");
  if (!have_authority(authority, called, problems) || !have_certificate(server, authority, called, problems))
    return std::nullopt;
  Authority made;
  made.certificate = pem_of(authority.certificate.get());
  made.der = der_of(authority.certificate.get());
  made.identity = {pem_of(server.certificate.get()) + made.certificate, pem_of(server.key.get())};
  return made;
}

std::string fingerprint(const std::string& der) {
  const std::string digits = sha256_hex(der);
  std::string out;
  for (std::size_t i = 0; i < digits.size(); i += 2) {
    if (i > 0) out += ':';
    out += static_cast<char>(std::toupper(digits[i]));
    out += static_cast<char>(std::toupper(digits[i + 1]));
  }
  return out;
}

}  // namespace zoneproof::server

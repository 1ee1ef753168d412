#include "server/secrets.hpp"

#include <sodium.h>
#include <sys/stat.h>

#include <array>
#include <filesystem>
#include <stdexcept>

#include "base/file.hpp"
#include "messages/server.hpp"

namespace zoneproof::server {

namespace {

constexpr std::size_t kKeyBytes = 32;

void ready() {
  static const int begun = sodium_init();
  if (begun < 0) throw std::runtime_error("sodium_init");
}

std::string hex(const unsigned char* bytes, std::size_t size) {
  std::string text(2 * size + 1, '\0');
  sodium_bin2hex(text.data(), text.size(), bytes, size);
  text.pop_back();
  return text;
}

std::string random_bytes(std::size_t size) {
  ready();
  std::string bytes(size, '\0');
  randombytes_buf(bytes.data(), bytes.size());
  return bytes;
}

/// What a password is held against where nobody has the name that was given.
const std::string& nobody() {
  static const std::string hash = hash_of_password(random_name());
  return hash;
}

}  // namespace

std::string hash_of_password(const std::string& password) {
  ready();
  std::array<char, crypto_pwhash_STRBYTES> hash{};
  if (crypto_pwhash_str_alg(hash.data(), password.data(), password.size(), crypto_pwhash_OPSLIMIT_INTERACTIVE,
                            crypto_pwhash_MEMLIMIT_INTERACTIVE, crypto_pwhash_ALG_ARGON2ID13) != 0)
    throw std::runtime_error("Argon2id: out of memory");
  return hash.data();
}

bool password_fits(const std::string& password, const std::string& hash) {
  ready();
  const bool known = !hash.empty() && hash.size() < crypto_pwhash_STRBYTES;
  const std::string& against = known ? hash : nobody();
  return crypto_pwhash_str_verify(against.c_str(), password.data(), password.size()) == 0 && known;
}

std::string random_name() {
  const std::string bytes = random_bytes(kKeyBytes);
  return hex(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
}

std::string tag_of(std::string_view text, const std::string& key) {
  ready();
  std::array<unsigned char, crypto_auth_hmacsha512256_BYTES> tag{};
  crypto_auth_hmacsha512256_state state;
  crypto_auth_hmacsha512256_init(&state, reinterpret_cast<const unsigned char*>(key.data()), key.size());
  crypto_auth_hmacsha512256_update(&state, reinterpret_cast<const unsigned char*>(text.data()), text.size());
  crypto_auth_hmacsha512256_final(&state, tag.data());
  return hex(tag.data(), tag.size());
}

bool same_secret(std::string_view a, std::string_view b) {
  ready();
  return a.size() == b.size() && sodium_memcmp(a.data(), b.data(), a.size()) == 0;
}

std::optional<Message> save_secret(const std::string& path, std::string_view bytes) {
  auto problem = save_file(path, bytes, Access::owner);
  // Written, but not on the disk for sure: a power cut may take it, and another is made then.
  if (problem && kind_of(problem->code).severity != Severity::error) return std::nullopt;
  return problem;
}

std::optional<Message> open_to_others(const std::string& path) {
  struct stat about {};
  if (::stat(path.c_str(), &about) == 0 && (about.st_mode & (S_IRWXG | S_IRWXO)) != 0)
    return say::server_secret_open_to_others(path);
  return std::nullopt;
}

std::optional<std::string> key_of_file(const std::string& path, std::vector<Message>& problems) {
  std::error_code fault;
  // An empty one was begun and never written: nothing hangs on it.
  if (!std::filesystem::exists(path, fault) || std::filesystem::file_size(path, fault) == 0) {
    const std::string key = random_bytes(kKeyBytes);
    if (auto problem = save_secret(path, key)) {
      problems.push_back(std::move(*problem));
      return std::nullopt;
    }
    return key;
  }
  if (auto problem = open_to_others(path)) {
    problems.push_back(std::move(*problem));
    return std::nullopt;
  }
  auto key = read_file(path, problems);
  if (!key) return std::nullopt;
  if (key->size() != kKeyBytes) {
    problems.push_back(say::server_key_file_bad(path));
    return std::nullopt;
  }
  return key;
}

}  // namespace zoneproof::server

#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"

/// Passwords, random names and tags, by libsodium. No secret is ever part of a message.
namespace zoneproof::server {

/// Argon2id (RFC 9106) with libsodium's "interactive" cost: 64 MB and some tenth of a second, salt and cost inside the
/// text. Throws std::runtime_error where there is no memory for it.
std::string hash_of_password(const std::string& password);
/// Takes as long for a hash that is none, so that time does not tell which names exist.
bool password_fits(const std::string& password, const std::string& hash);

/// 32 random bytes as 64 hexadecimal digits.
std::string random_name();
/// HMAC-SHA-512-256 of a text, as hexadecimal digits.
std::string tag_of(std::string_view text, const std::string& key);
/// Compares in a time that does not tell where they differ.
bool same_secret(std::string_view a, std::string_view b);

/// The key of this book's folder: made at first, 32 bytes, readable by its owner only. A problem where it can neither
/// be read nor made, or where others may read it.
std::optional<std::string> key_of_file(const std::string& path, std::vector<Message>& problems);

/// A problem where others than its owner may read the file.
std::optional<Message> open_to_others(const std::string& path);

/// Writes a file that only its owner may read, whole or not at all (save_file() of base/file.hpp).
std::optional<Message> save_secret(const std::string& path, std::string_view bytes);

}  // namespace zoneproof::server

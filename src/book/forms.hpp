#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.hpp"

/// What texts must look like before they go into a book. Each check adds what is wrong; both databases then take the
/// text, and give back the same.
namespace zoneproof::book {

class Forms {
 public:
  /// "2026-03-01T12:34:56Z", with or without a fraction of the second.
  Forms& time(const char* what, const std::string& text);
  /// [A-Za-z0-9_-]{1,64}
  Forms& edit_id(const std::string& text);
  /// [a-z][a-z0-9_]{0,39}
  Forms& site_id(const std::string& text);
  /// UTF-8 without control characters, at least one character and at most 80.
  Forms& person(const char* what, const std::string& text);
  /// UTF-8 without NUL, at most `longest` bytes.
  Forms& text(const char* what, const std::string& text, std::size_t longest);
  Forms& sha256(const std::string& text);

  const std::vector<Message>& problems() const { return problems_; }
  bool good() const { return problems_.empty(); }

 private:
  std::vector<Message> problems_;
};

inline constexpr std::size_t kLongestWhy = 4000;

bool is_sha256(std::string_view text);

}  // namespace zoneproof::book

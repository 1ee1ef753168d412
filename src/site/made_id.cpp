#include "site/made_id.hpp"

#include <array>

#include "base/utf8.hpp"

namespace zoneproof::site {

namespace {

constexpr std::size_t kLongestId = 40;

/// Base letters of U+00C0 to U+017F (Latin-1 Supplement and Latin Extended-A), blank where there is none.
constexpr std::string_view kBaseLetters =
    "aaaaaaaceeeeiiii"
    "dnooooo ouuuuyts"
    "aaaaaaaceeeeiiii"
    "dnooooo ouuuuyty"
    "aaaaaaccccccccdd"
    "ddeeeeeeeeeegggg"
    "gggghhhhiiiiiiii"
    "iiiijjkkklllllll"
    "lllnnnnnnnnnoooo"
    "oooorrrrrrssssss"
    "ssttttttuuuuuuuu"
    "uuuuwwyyyzzzzzzs";
static_assert(kBaseLetters.size() == 0x180 - 0xC0);

/// The letter or digit that stands for a code point in an id; '_' for anything else.
char plain(char32_t code_point) {
  if (code_point >= 'A' && code_point <= 'Z') return static_cast<char>(code_point - 'A' + 'a');
  const bool letter = code_point >= 'a' && code_point <= 'z';
  if (letter || (code_point >= '0' && code_point <= '9')) return static_cast<char>(code_point);
  if (code_point < 0xC0 || code_point >= 0x180) return '_';
  const char base = kBaseLetters[code_point - 0xC0];
  return base == ' ' ? '_' : base;
}

std::string stem_of(std::string_view name) {
  std::string out;
  for (std::size_t at = 0; at < name.size();) {
    const Utf8Step step = utf8_at(name, at);
    const char letter = step.valid ? plain(step.code_point) : '_';
    if (letter != '_' || (!out.empty() && out.back() != '_')) out += letter;
    at += step.size;
  }
  while (!out.empty() && out.back() == '_') out.pop_back();
  if (out.empty() || out == "none") return "item";
  return out.front() >= '0' && out.front() <= '9' ? "n" + out : out;
}

}  // namespace

std::string MadeIds::make(std::string_view name) {
  std::string stem = stem_of(name).substr(0, kLongestId);
  if (taken_.insert(stem).second) return stem;
  for (int& number = next_.emplace(stem, 2).first->second;; ++number) {
    const std::string ending = "_" + std::to_string(number);
    std::string id = stem.substr(0, kLongestId - ending.size()) + ending;
    if (taken_.insert(id).second) return id;
  }
}

}  // namespace zoneproof::site

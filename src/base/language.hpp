#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// In which language the program speaks. Every message stands in English (data/messages/en); each other folder of
/// data/messages is a language more, which holds sentences only (tools/messages.py). Words of closed sets, as JSON and
/// options have them, are identifiers and the same in all languages (docs/decisions/018-languages.md).
namespace zoneproof {

/// Index into `languages()`.
enum class Language : std::size_t { english = 0 };

/// The codes of all languages: "en" first, the others sorted.
const std::vector<std::string>& languages();
/// The language of a code as "de"; nothing where the program has none of that name.
std::optional<Language> language_called(std::string_view code);
std::string_view code_of(Language language);

/// What `text()`, `remedy()` and `shown()` speak in this thread; English where nobody has chosen.
Language spoken_language() noexcept;

/// Chooses the language of this thread while it lives, and restores the one before. Each thread has its own, so that a
/// server answers several people at once; `parallel_for` carries the caller's into the threads that work for it.
class SpokenLanguage {
 public:
  explicit SpokenLanguage(Language language) noexcept;
  ~SpokenLanguage();
  SpokenLanguage(const SpokenLanguage&) = delete;
  SpokenLanguage& operator=(const SpokenLanguage&) = delete;

 private:
  Language before_;
};

/// Digits with a point, as a computer writes them, with the decimal sign of the spoken language: "4.62" is "4,62" in
/// German. For what people read; a number that is to be typed, or that a program reads, keeps its point.
std::string with_decimal_sign(std::string digits);

}  // namespace zoneproof

#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <string_view>

/// One set of colours for screen and paper. A display list names inks; the writer is told the palette.
namespace zoneproof::drawing {

enum class Ink { paper, wash, faint, line, quiet, text, proven, thin, broken, unanswered };

inline constexpr std::array<Ink, 10> kInks = {Ink::paper, Ink::wash,   Ink::faint, Ink::line,   Ink::quiet,
                                              Ink::text,  Ink::proven, Ink::thin,  Ink::broken, Ink::unanswered};

enum class Palette { light, dark, black_and_white };

/// sRGB (IEC 61966-2-1), 8 bits each.
struct Colour {
  std::uint8_t red = 0, green = 0, blue = 0;
  bool operator==(const Colour&) const = default;
};

/// What an ink is in a palette. Texts and lines stand on `paper` and `wash`, verdicts on `paper`, with a contrast
/// of 4.5:1 or more (WCAG 2.1, success criterion 1.4.3); any two verdicts differ by 20 or more (CIE 1976) in normal
/// sight and in the three colour-blindnesses as Machado, Oliveira and Fernandes (2009) simulate them. Black and white
/// has no greys: shapes and words tell. `faint` is for guides that carry no meaning and promises no contrast.
Colour colour(Ink ink, Palette palette);

/// The ink's name as it stands in SVG classes: "proven".
std::string_view name(Ink ink);

/// "#006CA4"
std::string hexadecimal(Colour colour);

}  // namespace zoneproof::drawing

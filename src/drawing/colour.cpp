#include "drawing/colour.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace zoneproof::drawing {

namespace {

struct Token {
  Ink ink;
  std::string_view name;
  Colour light, dark, black_and_white;
};

constexpr Colour kBlack{0x00, 0x00, 0x00}, kWhite{0xFF, 0xFF, 0xFF};

constexpr std::array<Token, kInks.size()> kTokens = {
    {{Ink::paper, "paper", kWhite, {0x14, 0x19, 0x1C}, kWhite},
     {Ink::wash, "wash", {0xF1, 0xF3, 0xF5}, {0x1E, 0x26, 0x2B}, kWhite},
     {Ink::faint, "faint", {0xB4, 0xBC, 0xC2}, {0x4A, 0x56, 0x5E}, kBlack},
     {Ink::line, "line", {0x22, 0x2B, 0x31}, {0xD0, 0xD8, 0xDD}, kBlack},
     {Ink::quiet, "quiet", {0x4B, 0x58, 0x61}, {0xA8, 0xB5, 0xBE}, kBlack},
     {Ink::text, "text", {0x14, 0x19, 0x1C}, {0xEC, 0xF1, 0xF4}, kBlack},
     {Ink::proven, "proven", {0x00, 0x6C, 0xA4}, {0x6D, 0xF4, 0xDD}, kBlack},
     {Ink::thin, "thin", {0x96, 0x6F, 0x05}, {0xFA, 0xCD, 0x0E}, kBlack},
     {Ink::broken, "broken", {0x73, 0x0B, 0x06}, {0xFA, 0x76, 0x78}, kBlack},
     {Ink::unanswered, "unanswered", {0x47, 0x46, 0x4D}, {0x89, 0x95, 0xC7}, kBlack}}};

const Token& token(Ink ink) {
  for (const Token& candidate : kTokens) {
    if (candidate.ink == ink) return candidate;
  }
  throw std::logic_error("an ink without colours");
}

}  // namespace

Colour colour(Ink ink, Palette palette) {
  const Token& found = token(ink);
  switch (palette) {
    case Palette::light: return found.light;
    case Palette::dark: return found.dark;
    case Palette::black_and_white: return found.black_and_white;
  }
  throw std::logic_error("a palette without colours");
}

std::string_view name(Ink ink) { return token(ink).name; }

std::string hexadecimal(Colour colour) {
  return fmt::format("#{:02X}{:02X}{:02X}", colour.red, colour.green, colour.blue);
}

}  // namespace zoneproof::drawing

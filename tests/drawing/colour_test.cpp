#include "drawing/colour.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace zoneproof::drawing {
namespace {

using Triple = std::array<double, 3>;

/// IEC 61966-2-1: from 8 bits to light.
Triple light_of(Colour colour) {
  const auto channel = [](std::uint8_t bits) {
    const double share = bits / 255.0;
    return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
  };
  return {channel(colour.red), channel(colour.green), channel(colour.blue)};
}

/// WCAG 2.1, "relative luminance" and "contrast ratio".
double contrast(Colour a, Colour b) {
  const auto luminance = [](Colour colour) {
    const Triple light = light_of(colour);
    return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2];
  };
  const double x = luminance(a), y = luminance(b);
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

/// CIE 1976 L*a*b*, white D65.
Triple lab_of(const Triple& light) {
  const double x = (0.4124 * light[0] + 0.3576 * light[1] + 0.1805 * light[2]) / 0.95047;
  const double y = 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2];
  const double z = (0.0193 * light[0] + 0.1192 * light[1] + 0.9505 * light[2]) / 1.08883;
  const auto f = [](double t) { return t > 216.0 / 24389.0 ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0; };
  return {116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))};
}

/// Machado, Oliveira and Fernandes, "A physiologically-based model for simulation of color vision deficiency", IEEE
/// TVCG 15 (2009) 1291-1298, severity 1.0, for light; the first is normal sight.
constexpr std::array<std::array<Triple, 3>, 4> kSights = {
    {{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
     {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
     {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
     {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}}}};

Triple seen(const std::array<Triple, 3>& sight, const Triple& light) {
  Triple out{};
  for (std::size_t i = 0; i < 3; ++i) {
    out[i] = std::clamp(sight[i][0] * light[0] + sight[i][1] * light[1] + sight[i][2] * light[2], 0.0, 1.0);
  }
  return out;
}

double difference(const Triple& a, const Triple& b) {
  const Triple p = lab_of(a), q = lab_of(b);
  return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

constexpr std::array<Ink, 4> kVerdicts = {Ink::proven, Ink::thin, Ink::broken, Ink::unanswered};

double least_difference(Palette palette) {
  double least = 1000;
  for (const auto& sight : kSights) {
    for (std::size_t i = 0; i < kVerdicts.size(); ++i) {
      for (std::size_t j = i + 1; j < kVerdicts.size(); ++j) {
        const Triple a = seen(sight, light_of(colour(kVerdicts[i], palette)));
        const Triple b = seen(sight, light_of(colour(kVerdicts[j], palette)));
        least = std::min(least, difference(a, b));
      }
    }
  }
  return least;
}

// WCAG's own examples: black on white is 21:1, #767676 on white is the lightest grey with 4.5:1.
TEST(ColourCheck, TheFormulasGiveThePublishedFigures) {
  EXPECT_NEAR(contrast({0, 0, 0}, {255, 255, 255}), 21.0, 1e-9);
  EXPECT_NEAR(contrast({0x76, 0x76, 0x76}, {255, 255, 255}), 4.54, 0.005);
  // sRGB red in CIELAB, as published tables give it for D65.
  const Triple red = lab_of(light_of({255, 0, 0}));
  EXPECT_NEAR(red[0], 53.24, 0.05);
  EXPECT_NEAR(red[1], 80.09, 0.1);
  EXPECT_NEAR(red[2], 67.20, 0.1);
  for (const auto& sight : kSights) {  // each leaves white white
    for (const Triple& row : sight) EXPECT_NEAR(row[0] + row[1] + row[2], 1.0, 2e-6);
  }
}

TEST(Colours, EverythingThatMeansSomethingStandsOutFromTheSheet) {
  for (const Palette palette : {Palette::light, Palette::dark, Palette::black_and_white}) {
    for (const Ink ink : kInks) {
      if (ink == Ink::paper || ink == Ink::wash || ink == Ink::faint) continue;
      const bool verdict = std::find(kVerdicts.begin(), kVerdicts.end(), ink) != kVerdicts.end();
      for (const Ink ground : {Ink::paper, Ink::wash}) {
        if (verdict && ground == Ink::wash) continue;  // verdicts stand on paper only
        EXPECT_GE(contrast(colour(ink, palette), colour(ground, palette)), 4.5) << name(ink) << " on " << name(ground);
      }
    }
  }
}

TEST(Colours, VerdictsDifferAlsoForTheColourBlind) {
  EXPECT_NEAR(least_difference(Palette::light), 29, 1);  // the figures that docs/methods/drawings.md gives
  EXPECT_NEAR(least_difference(Palette::dark), 33, 1);
}

TEST(Colours, BlackAndWhiteHasNoGreys) {
  for (const Ink ink : kInks) {
    const Colour found = colour(ink, Palette::black_and_white);
    EXPECT_TRUE(found == (Colour{0, 0, 0}) || found == (Colour{255, 255, 255})) << name(ink);
  }
}

TEST(Colours, AreWrittenAsPagesWantThem) { EXPECT_EQ(hexadecimal({0x00, 0x6C, 0xA4}), "#006CA4"); }

}  // namespace
}  // namespace zoneproof::drawing

#include "cli/screen.hpp"

#include <fmt/format.h>

#include <array>
#include <cstdlib>
#include <ostream>

#include "cli/text_width.hpp"

namespace zoneproof::cli {

namespace {

struct Colour {
  int red, green, blue;
};

struct Ink {
  Style style;
  Colour on_light, on_dark;
};

// The project's palette (docs/decisions): contrast 4.5:1 or more on its sheet, told apart in simulated
// colour-blindness.
constexpr std::array<Ink, 4> kInks = {{{Style::proven, {0x00, 0x6C, 0xA4}, {0x6D, 0xF4, 0xDD}},
                                       {Style::thin, {0x96, 0x6F, 0x05}, {0xFA, 0xCD, 0x0E}},
                                       {Style::broken, {0x73, 0x0B, 0x06}, {0xFA, 0x76, 0x78}},
                                       {Style::unanswered, {0x47, 0x46, 0x4D}, {0x89, 0x95, 0xC7}}}};

/// Index of the nearest colour of the 6x6x6 cube that terminals of 256 colours share.
int nearest_of_256(const Colour& colour) {
  constexpr std::array<int, 6> steps = {0, 95, 135, 175, 215, 255};
  const auto nearest = [&](int channel) {
    int best = 0;
    for (int i = 1; i < 6; ++i) {
      const auto distance = [&](int step) { return std::abs(steps[static_cast<std::size_t>(step)] - channel); };
      if (distance(i) < distance(best)) best = i;
    }
    return best;
  };
  return 16 + 36 * nearest(colour.red) + 6 * nearest(colour.green) + nearest(colour.blue);
}

}  // namespace

Style style_of(chain::Verdict verdict) {
  switch (verdict) {
    case chain::Verdict::proven: return Style::proven;
    case chain::Verdict::thin: return Style::thin;
    case chain::Verdict::broken: return Style::broken;
    default: return Style::unanswered;
  }
}

std::string Screen::painted(std::string_view text, Style style) const {
  if (!terminal_.out_is_terminal || terminal_.no_colour || style == Style::plain) return std::string(text);
  if (style == Style::heading) return fmt::format("\x1b[1m{}\x1b[0m", text);
  if (style == Style::faint) return fmt::format("\x1b[2m{}\x1b[0m", text);
  for (const Ink& ink : kInks) {
    if (ink.style != style) continue;
    const Colour& colour = terminal_.light_sheet ? ink.on_light : ink.on_dark;
    if (!terminal_.true_colour) return fmt::format("\x1b[38;5;{}m{}\x1b[0m", nearest_of_256(colour), text);
    return fmt::format("\x1b[38;2;{};{};{}m{}\x1b[0m", colour.red, colour.green, colour.blue, text);
  }
  return std::string(text);
}

void Screen::begin_writing() {
  end_progress();
  anything_ = true;
}

void Screen::line(std::string_view text, std::size_t indent, Style style) {
  begin_writing();
  if (text.empty()) {
    out_ << '\n';
    return;
  }
  for (const std::string& part : wrapped(text, kWidth - indent)) {
    out_ << std::string(indent, ' ') << painted(part, style) << '\n';
  }
}

void Screen::heading(std::string_view text) {
  if (anything_) line();
  line(text, 0, Style::heading);
}

void Screen::entry(std::string_view word, std::string_view text, std::size_t indent, Style style, std::size_t before) {
  begin_writing();
  const std::size_t width = text_width(word);
  out_ << std::string(before, ' ') << painted(word, style);
  std::size_t at = before + width;
  if (at + 1 > indent) {
    out_ << '\n';
    at = 0;
  }
  for (const std::string& part : wrapped(text, kWidth - indent)) {
    out_ << std::string(indent - at, ' ') << part << '\n';
    at = 0;
  }
  if (text.empty()) out_ << '\n';
}

void Screen::raw(std::string_view text) {
  begin_writing();
  out_ << text;
}

void Screen::progress(std::string_view text) {
  if (!terminal_.err_is_terminal) return;
  const std::lock_guard<std::mutex> lock(progress_mutex_);
  err_ << "\r\x1b[2K" << shortened(text, kWidth - 1) << std::flush;
  progress_shown_ = true;
}

void Screen::end_progress() {
  const std::lock_guard<std::mutex> lock(progress_mutex_);
  if (progress_shown_) err_ << "\r\x1b[2K" << std::flush;
  progress_shown_ = false;
}

}  // namespace zoneproof::cli

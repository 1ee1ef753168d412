#include "drawing/text_block.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <limits>

#include "base/utf8.hpp"
#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

/// Baselines stand this many sizes apart: enough for accents above capitals and for marks below (common practice, no
/// source).
constexpr double kLineStep = 1.35;

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  return text;
}

/// Whether the blank before `end` stands between a figure and its unit: "4.6 V", "20 %", "25 °C".
bool parts_measure(std::string_view text, std::size_t end) {
  constexpr std::size_t longest_unit = 5;  // bytes
  if (end < 2 || end >= text.size() || text[end - 1] != ' ') return false;
  if (text[end - 2] < '0' || text[end - 2] > '9') return false;
  return std::min(text.find_first_of(" .,;", end), text.size()) - end <= longest_unit;
}

/// Whether the blank before `end` stands between a word and the number that it counts: "zone 2", "input 14".
bool parts_numbered(std::string_view text, std::size_t end) {
  constexpr std::size_t most_digits = 4;
  if (end < 2 || end >= text.size() || text[end - 1] != ' ') return false;
  const auto letter = static_cast<unsigned char>(text[end - 2]);
  if (std::isalpha(letter) == 0 && letter < 0x80) return false;
  const std::size_t behind = std::min(text.find_first_not_of("0123456789", end), text.size());
  if (behind == end || behind - end > most_digits) return false;
  return behind == text.size() || std::string_view(" ,;:)/").find(text[behind]) != std::string_view::npos ||
         (text[behind] == '.' && (behind + 1 == text.size() || text[behind + 1] == ' '));
}

class Breaker {
 public:
  Breaker(const Ruler& ruler, std::string_view text, Face face, double size_mm, double width_mm)
      : ruler_(ruler), text_(text), face_(face), size_mm_(size_mm), width_mm_(width_mm) {
    ends_.push_back(0);
    for (std::size_t end : ruler.line_ends(text)) {
      if ((parts_measure(text, end) || parts_numbered(text, end)) && fits(ends_.back(), next_end(end))) continue;
      add_word(end);
    }
  }

  std::vector<std::string> lines() const {
    std::vector<std::string> lines = lines_of(best([this](std::size_t from, std::size_t to) { return sum(from, to); }));
    const bool all_fit = std::all_of(lines.begin(), lines.end(), [this](const std::string& line) {
      return ruler_.measure(line, face_, size_mm_).box.width() <= width_mm_;
    });
    if (all_fit) return lines;
    return lines_of(best([this](std::size_t from, std::size_t to) { return width(ends_[from], ends_[to]); }));
  }

 private:
  double width(std::size_t from, std::size_t to) const {
    return ruler_.measure(trimmed(text_.substr(from, to - from)), face_, size_mm_).box.width();
  }
  bool fits(std::size_t from, std::size_t to) const { return width(from, to) <= width_mm_; }

  std::size_t next_end(std::size_t after) const { return std::min(text_.find(' ', after), text_.size()); }

  /// A further place where a line may end; a word wider than a line gets more of them inside.
  void add_word(std::size_t end) {
    if (!fits(ends_.back(), end)) {
      std::size_t last = ends_.back();
      for (std::size_t letter : ruler_.letter_ends(text_)) {
        if (letter <= ends_.back() || letter >= end) continue;
        if (!fits(ends_.back(), letter) && last > ends_.back()) ends_.push_back(last);
        last = letter;
      }
      if (last > ends_.back() && !fits(ends_.back(), end)) ends_.push_back(last);
    }
    if (end > ends_.back()) ends_.push_back(end);
  }

  std::vector<std::string> lines_of(const std::vector<std::size_t>& before) const {
    std::vector<std::string> lines;
    for (std::size_t at = ends_.size() - 1; at > 0; at = before[at]) {
      lines.emplace_back(trimmed(text_.substr(ends_[before[at]], ends_[at] - ends_[before[at]])));
    }
    std::reverse(lines.begin(), lines.end());
    return lines;
  }

  /// A line's width from its words, each measured once for all texts: kerning across a blank aside, it is what the
  /// whole line takes. Measuring every line that could be would shape most of a text twenty times.
  double sum(std::size_t from, std::size_t to) const {
    if (sums_.empty()) {
      sums_.push_back({0.0, 0.0});
      for (std::size_t i = 1; i < ends_.size(); ++i) {
        const std::string_view piece = text_.substr(ends_[i - 1], ends_[i] - ends_[i - 1]), word = trimmed(piece);
        const double begun = sums_.back().with_blank, wide = ruler_.measure(word, face_, size_mm_).box.width();
        const double blanks = static_cast<double>(piece.size() - word.size()) * blank();
        sums_.push_back({begun + wide, begun + wide + blanks});
      }
    }
    return sums_[to].without_blank - sums_[from].with_blank;
  }
  double blank() const { return ruler_.measure(" ", face_, size_mm_).width; }

  /// For each place the place at which its line begins, in the best breaking of all before it.
  template <class Width>
  std::vector<std::size_t> best(const Width& width_of) const {
    struct Cost {
      std::size_t lines = 0;
      double unevenness = 0.0;
    };
    std::vector<std::size_t> before(ends_.size(), 0);
    std::vector<Cost> cost(ends_.size());
    for (std::size_t to = 1; to < ends_.size(); ++to) {
      cost[to].lines = std::numeric_limits<std::size_t>::max();
      for (std::size_t from = to; from-- > 0;) {
        const double room = width_mm_ - width_of(from, to);
        if (room < 0 && from + 1 < to) break;  // a single piece stands, even where a letter alone is too wide
        const bool last = to + 1 == ends_.size();
        const Cost tried{cost[from].lines + 1, cost[from].unevenness + (last ? 0.0 : room * room)};
        if (tried.lines < cost[to].lines || (tried.lines == cost[to].lines && tried.unevenness < cost[to].unevenness)) {
          cost[to] = tried;
          before[to] = from;
        }
      }
    }
    return before;
  }

  const Ruler& ruler_;
  std::string_view text_;
  Face face_;
  double size_mm_, width_mm_;
  std::vector<std::size_t> ends_;
  struct Sum {
    double without_blank = 0.0, with_blank = 0.0;  ///< of what ends at the last blank, from the text's beginning
  };
  mutable std::vector<Sum> sums_;  ///< by place
};

}  // namespace

TextBlock broken(const Ruler& ruler, std::string_view text, Face face, double size_mm, double width_mm) {
  const std::string shown(trimmed(text));
  const std::string safe = printable(shown, shown.size());
  TextBlock block{{}, face, size_mm, 0.0, 0.0, 0.0, kLineStep * size_mm};
  if (safe.empty()) return block;
  block.lines = Breaker(ruler, safe, face, size_mm, width_mm).lines();
  double bottom = 0.0;
  for (std::size_t i = 0; i < block.lines.size(); ++i) {
    const Box box = ruler.measure(block.lines[i], face, size_mm).box;
    block.width_mm = std::max(block.width_mm, box.width());
    if (i == 0) block.ascent_mm = -box.top;
    bottom = std::max(bottom, static_cast<double>(i) * block.step_mm + box.bottom);
  }
  block.height_mm = block.ascent_mm + bottom;
  return block;
}

Group set(const Ruler& ruler, std::string id, const TextBlock& block, Ink ink, Point top, Align align) {
  Group group;
  group.name.id = id;
  for (std::size_t i = 0; i < block.lines.size(); ++i) {
    const Point at{top.x, top.y + block.ascent_mm + static_cast<double>(i) * block.step_mm};
    std::string line_id = id.empty() ? std::string() : fmt::format("{}-{}", id, i + 1);
    group.items.push_back(
        {text_line(ruler, std::move(line_id), block.lines[i], block.face, block.size_mm, ink, at, align)});
  }
  return group;
}

}  // namespace zoneproof::drawing

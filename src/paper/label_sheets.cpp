#include "paper/label_sheets.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "drawing/type.hpp"
#include "messages/paper.hpp"
#include "paper/qr.hpp"
#include "paper/set_text.hpp"

namespace zoneproof::paper {

namespace {

constexpr double kSizes[] = {drawing::kLabel_mm, drawing::kCaption_mm, kSmallestLabelLetters_mm};

constexpr double kStep_mm = 0.01;  ///< places of one size differ by what arithmetic leaves

using drawing::Box;

class Maker {
 public:
  Maker(const drawing::Ruler& ruler, const LabelStock& stock) : ruler_(ruler), stock_(stock) {}

  LabelSheets run(const std::vector<Label>& labels, int used) {
    int place = used;
    for (const Label& label : labels) {
      const auto group = drawn(label, box_of(place % stock_.on_a_sheet()));
      if (!group) {
        made_.left_out.push_back(label);
        continue;
      }
      const auto sheet = static_cast<std::size_t>(place / stock_.on_a_sheet());
      while (made_.sheets.size() <= sheet) made_.sheets.push_back(blank_sheet());
      made_.sheets[sheet].content.items.push_back({*group});
      ++place;
    }
    tell_what_is_left_out();
    return std::move(made_);
  }

 private:
  /// Labels that are left out for one reason.
  struct LeftOut {
    std::vector<std::string> names;  ///< both ends of a wire bear one
    long long count = 0;
    double needed_mm = 0.0;

    void add(const std::string& name) {
      ++count;
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
  };

  /// The first few by name: forty messages, one a label, would hide what else is wrong.
  static std::vector<std::string> first_few(const LeftOut& out) {
    constexpr std::size_t most = 6;
    std::vector<std::string> names = out.names;
    if (names.size() <= most) return names;
    const auto more = static_cast<long long>(names.size() - most);
    names.resize(most);
    names.push_back(text(say::labels_more(more)));
    return names;
  }

  void tell_what_is_left_out() {
    if (codes_beyond_.count > 0)
      made_.messages.push_back(say::label_code_beyond(codes_beyond_.count, first_few(codes_beyond_)));
    for (const auto& [room, out] : large_codes_)
      made_.messages.push_back(
          say::label_code_too_large(out.count, first_few(out), Measure{out.needed_mm, "mm"}, Measure{room, "mm"}));
    for (const auto& [size, out] : long_words_)
      made_.messages.push_back(
          say::label_words_too_long(out.count, first_few(out), Measure{size.first, "mm"}, Measure{size.second, "mm"}));
  }

  drawing::Sheet blank_sheet() const {
    drawing::Sheet sheet;
    sheet.format = {stock_.paper_width_mm, stock_.paper_height_mm};
    sheet.margins = {0.0, 0.0, 0.0, 0.0};
    const auto number = static_cast<long long>(made_.sheets.size() + 1);
    sheet.name = {fmt::format("labels-{}", number), text(say::labels_sheet(stock_.name, number)), {}};
    sheet.description = text(say::labels_sheet_shows());
    return sheet;
  }

  /// What is printed of the label in a place.
  Box box_of(int place) const {
    const double left = stock_.left_mm + place % stock_.columns * stock_.pitch_x_mm;
    const double top = stock_.top_mm + place / stock_.columns * stock_.pitch_y_mm;
    return {left, top, left + stock_.label_width_mm, top + stock_.print_height_mm};
  }

  std::optional<drawing::Group> drawn(const Label& label, const Box& box) {
    if (stock_.kind == LabelKind::wrap) return face(label, label.id, box);
    const double half = stock_.face_width_mm();
    auto front = face(label, label.id + "-front", {box.left, box.top, box.left + half, box.bottom});
    if (!front) return std::nullopt;
    auto back = face(label, label.id + "-back", {box.right - half, box.top, box.right, box.bottom});
    drawing::Group both;
    both.name.id = label.id;
    both.items.push_back({*std::move(front)});
    both.items.push_back({*std::move(back)});
    return both;
  }

  std::optional<drawing::Group> face(const Label& label, const std::string& id, const Box& box) {
    const Box inner = drawing::grown(box, -kLabelClear_mm);
    drawing::Group group;
    group.name.id = id;
    if (label.qr.empty()) {
      if (add_words(group, label, inner)) return group;
      return too_long(label, inner);
    }
    // Where a long text wants more modules than the label has room for, it gives up some of its strength.
    const double room = std::min(inner.height(), inner.width());
    QrStrength strength = QrStrength::medium;
    std::optional<int> modules = qr_modules(label.qr, strength);
    if (!modules || *modules * stock_.least_module_mm > room) {
      strength = QrStrength::low;
      modules = qr_modules(label.qr, strength);
    }
    if (!modules) {
      codes_beyond_.add(name_of(label));
      return std::nullopt;
    }
    const double least = *modules * stock_.least_module_mm;
    if (least > room) {
      LeftOut& out = large_codes_[std::round(room / kStep_mm) * kStep_mm];
      out.needed_mm = std::max(out.needed_mm, least);
      out.add(name_of(label));
      return std::nullopt;
    }
    // As large as half of the label allows; no larger than it must be where the words want the room.
    const double largest = std::min(inner.height(), std::max(least, inner.width() / 2));
    for (const double side : {largest, least}) {
      drawing::Group with_code = group;
      with_code.items.push_back(
          {qr_code(id + "-code", label.qr, {inner.left, inner.top + (inner.height() - side) / 2}, side, strength)
               .shape});
      if (add_words(with_code, label, {inner.left + side, inner.top, inner.right, inner.bottom})) return with_code;
    }
    return too_long(label, {inner.left + least, inner.top, inner.right, inner.bottom});
  }

  static std::string name_of(const Label& label) { return label.lines.empty() ? label.id : label.lines.front(); }

  std::optional<drawing::Group> too_long(const Label& label, const Box& box) {
    const auto rounded = [](double mm) { return std::round(mm / kStep_mm) * kStep_mm; };
    long_words_[{rounded(box.width()), rounded(box.height())}].add(name_of(label));
    return std::nullopt;
  }

  bool add_words(drawing::Group& group, const Label& label, const Box& box) {
    double height = 0.0;
    for (const double size : kSizes) {
      if (box.width() < size) break;
      std::vector<SetText> texts;
      height = 0.0;
      bool as_asked = true;
      for (const std::string& line : label.lines) {
        texts.push_back(set_text(ruler_, line, {drawing::Role::label, texts.empty()}, size, box.width()));
        height += texts.back().height_mm;
        as_asked = as_asked && texts.back().size_mm == size;
      }
      if (!as_asked || height > box.height()) continue;
      double top = box.top + (box.height() - height) / 2;
      for (const SetText& text : texts) {
        add_text(group, text, {box.left, box.right, top}, drawing::Ink::text);
        top += text.height_mm;
      }
      return true;
    }
    return false;
  }

  const drawing::Ruler& ruler_;
  const LabelStock& stock_;
  LabelSheets made_;
  LeftOut codes_beyond_;                                     ///< longer than any code
  std::map<double, LeftOut> large_codes_;                    ///< by the room for a code
  std::map<std::pair<double, double>, LeftOut> long_words_;  ///< by the room for words
};

}  // namespace

LabelSheets label_sheets(const drawing::Ruler& ruler, const std::vector<Label>& labels, const LabelStock& stock,
                         int used) {
  return Maker(ruler, stock).run(labels, used);
}

}  // namespace zoneproof::paper

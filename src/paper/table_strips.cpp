#include "paper/table_strips.hpp"

#include <algorithm>
#include <numeric>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/paper.hpp"
#include "paper/grid.hpp"
#include "paper/table_cells.hpp"
#include "paper/table_widths.hpp"
#include "paper/text_strips.hpp"

namespace zoneproof::paper {

using drawing::Ink;

namespace {

constexpr drawing::Face kTitleFace{drawing::Role::reading, true};

class TableSetter {
 public:
  TableSetter(const drawing::Ruler& ruler, const Table& table, const Room& room)
      : ruler_(ruler), table_(table), room_(room), widths_(column_widths(ruler, table, room.width_mm)) {
    edges_.push_back(0.0);
    for (const double width : widths_) edges_.push_back(edges_.back() + width);
  }

  std::vector<Strip> run() {
    add_title();
    add_head();
    for (const Group& group : table_.groups) add(group);
    if (row_count(table_) == 0 && !table_.says_empty.empty()) add_note(table_.says_empty, Ink::text);
    strips_.back().stays_with_next = false;
    keep_last_rows_together();
    for (const std::string& note : table_.notes) add_note(note, Ink::quiet);
    return std::move(strips_);
  }

 private:
  double width() const { return edges_.back(); }

  void add_line(drawing::Group& group, double from, double to, double y, Ink ink, double thickness) const {
    group.items.push_back({drawing::stroked({}, {drawing::line_through({{from, y}, {to, y}})}, {ink, thickness})});
  }

  /// A line of words over the whole width.
  Strip strip_of(const std::string& says, drawing::Face face, double size_mm, Ink ink, double right_mm) const {
    Strip strip;
    const SetText text = set_text(ruler_, says, face, size_mm, right_mm);
    add_text(strip.group, text, {0.0, right_mm, 0.0}, ink);
    strip.height_mm = text.height_mm;
    return strip;
  }

  void add_title() {
    if (table_.title.empty()) return;
    Strip title = strip_of(table_.title, kTitleFace, drawing::kReading_mm, Ink::text, room_.width_mm);
    title.before_mm = kBetweenBlocks_mm;
    title.height_mm += kGrid_mm;
    title.group.name.id = table_.id;
    title.stays_with_next = true;
    strips_.push_back(std::move(title));
  }

  /// Headings above those of several columns: from the first column to behind the last.
  struct Span {
    std::size_t first = 0, end = 0;
    SetText text;
  };

  std::vector<Span> spans() const {
    std::vector<Span> found;
    const auto& columns = table_.columns;
    for (std::size_t i = 0; i < columns.size();) {
      std::size_t end = i + 1;
      while (end < columns.size() && columns[end].over == columns[i].over) ++end;
      if (!columns[i].over.empty())
        found.push_back({i, end,
                         set_text(ruler_, columns[i].over, kHeadFace, drawing::kCaption_mm,
                                  edges_[end] - edges_[i] - 2 * kPadding_mm)});
      i = end;
    }
    return found;
  }

  void add_head() {
    auto head = std::make_shared<Strip>();
    const std::vector<Span> above = spans();
    double over = 0.0;
    for (const Span& span : above) over = std::max(over, span.text.height_mm + kGrid_mm);
    for (const Span& span : above) {
      const double left = edges_[span.first] + kPadding_mm, right = edges_[span.end] - kPadding_mm;
      add_text(head->group, span.text, {left, right, over - kGrid_mm - span.text.height_mm, drawing::Align::middle},
               Ink::text);
      add_line(head->group, left, right, over - kGrid_mm / 2, Ink::line, drawing::kFine_mm);
    }
    std::vector<SetText> texts;
    double height = 0.0;
    for (std::size_t i = 0; i < widths_.size(); ++i) {
      texts.push_back(set_text(ruler_, short_heading(table_.columns[i]), kHeadFace, drawing::kCaption_mm,
                               widths_[i] - 2 * kPadding_mm));
      height = std::max(height, texts.back().height_mm);
    }
    for (std::size_t i = 0; i < texts.size(); ++i)
      add_text(head->group, texts[i],
               {edges_[i] + kPadding_mm, edges_[i + 1] - kPadding_mm, over + height - texts[i].height_mm,
                table_.columns[i].align},
               Ink::text);
    head->height_mm = over + height + kGrid_mm;
    add_line(head->group, 0.0, width(), head->height_mm, Ink::line, drawing::kMedium_mm);
    if (table_.title.empty()) {
      head->before_mm = kBetweenBlocks_mm;
      head->group.name.id = table_.id;
    }
    head->stays_with_next = row_count(table_) > 0 || !table_.says_empty.empty();
    strips_.push_back(*head);
    head_ = head;
  }

  void add(const Group& group) {
    if (group.rows.empty()) return;
    std::shared_ptr<const Strip> again;
    if (!group.heading.empty()) {
      Strip heading = sub_heading(group.heading);
      heading.head = {head_};
      heading.stays_with_next = true;
      strips_.push_back(std::move(heading));
      again = std::make_shared<Strip>(sub_heading(text(say::paper_continued(group.heading))));
    }
    for (const Row& row : group.rows) add(row, again);
  }

  Strip sub_heading(const std::string& says) const {
    Strip strip;
    const double inner = width() - 2 * kPadding_mm;
    const SetText words = set_text(ruler_, says, kTitleFace, drawing::kLabel_mm, inner);
    strip.height_mm = words.height_mm + 2 * kPadding_mm;
    strip.group.items.push_back(
        {drawing::filled({}, {drawing::ring(drawing::Box{0.0, 0.0, width(), strip.height_mm})}, Ink::wash)});
    add_text(strip.group, words, {kPadding_mm, kPadding_mm + inner, kPadding_mm}, Ink::text);
    add_line(strip.group, 0.0, width(), strip.height_mm, Ink::line, drawing::kFine_mm);
    return strip;
  }

  void add(const Row& row, const std::shared_ptr<const Strip>& sub_heading_again) {
    std::vector<std::shared_ptr<const Strip>> head;
    head.push_back(head_);
    if (sub_heading_again) head.push_back(sub_heading_again);
    double most = room_.height_mm;
    for (const auto& strip : head) most -= strip->height_mm;
    const std::vector<SetRow> parts =
        parts_of(set_row(ruler_, table_, row, widths_, drawing::kLabel_mm), std::max(most, room_.height_mm / 2));
    ++number_;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      Strip strip = strip_of(row, parts[i], i == 0, i + 1 == parts.size());
      strip.head = head;
      if (i == 0) strip.group.name.id = row_id(table_, row, number_);
      strips_.push_back(std::move(strip));
    }
  }

  /// The last row does not go to the next page alone.
  void keep_last_rows_together() {
    constexpr std::size_t few = 3;
    if (row_count(table_) >= few) strips_[strips_.size() - 2].stays_with_next = true;
  }

  Strip strip_of(const Row& row, const SetRow& set, bool first, bool last) const {
    Strip strip;
    strip.height_mm = set.height_mm;
    const double top = kPadding_mm + set.lift_mm;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const double left = edges_[i] + kPadding_mm, right = edges_[i + 1] - kPadding_mm;
      const auto* words = std::get_if<Words>(&row.cells[i]);
      add_text(strip.group, set.texts[i], {left, right, top, table_.columns[i].align}, Ink::text,
               words != nullptr ? words->link : std::string());
      if (first)
        add_mark(strip.group, ruler_, row.cells[i], {left, right, top + on_grid(drawing::kLabel_mm)},
                 table_.columns[i].align);
    }
    if (row.strong && first) add_line(strip.group, 0.0, width(), 0.0, Ink::line, drawing::kThin_mm);
    if (last) add_line(strip.group, 0.0, width(), set.height_mm, Ink::quiet, drawing::kHairline_mm);
    return strip;
  }

  void add_note(const std::string& note, Ink ink) {
    std::vector<Strip> lines =
        text_strips(ruler_, note, {{drawing::Role::reading, false}, drawing::kLabel_mm, ink}, 0.0, room_.width_mm);
    if (!lines.empty()) lines.front().before_mm = kGrid_mm;
    for (Strip& line : lines) strips_.push_back(std::move(line));
  }

  const drawing::Ruler& ruler_;
  const Table& table_;
  Room room_;
  std::vector<double> widths_, edges_;
  std::vector<Strip> strips_;
  std::shared_ptr<const Strip> head_;
  std::size_t number_ = 0;  ///< of the row
};

}  // namespace

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Table& table, const Room& room) {
  require_sound(table);
  return TableSetter(ruler, table, room).run();
}

}  // namespace zoneproof::paper

#include "paper/flow.hpp"

#include <stdexcept>

#include "paper/grid.hpp"

namespace zoneproof::paper {

namespace {

constexpr double kBeforeChapter_mm = 12 * kGrid_mm;

}  // namespace

void Flow::new_page() {
  pages_.push_back({lying_, chapter_, {}, 0.0, {}});
  begun_ = true;
}

void Flow::put(const Strip& strip, double before_mm) {
  Page& page = pages_.back();
  const drawing::Box box = frame_.text(page.lying);
  page.used_mm += before_mm;
  page.text.items.push_back(
      drawing::moved(drawing::Item{strip.group}, drawing::Point{box.left, box.top + page.used_mm}));
  page.used_mm += strip.height_mm;
}

/// Puts strips that belong together where they have room.
void Flow::place(const std::vector<Strip>& strips, std::size_t first, std::size_t end) {
  double together = 0.0;
  for (std::size_t i = first; i < end; ++i) together += strips[i].before_mm + strips[i].height_mm;
  const bool fits = begun_ && pages_.back().used_mm + together <= height(lying_) + kRounding_mm;
  if (!fits && (!begun_ || pages_.back().used_mm > 0.0)) new_page();
  for (std::size_t i = first; i < end; ++i) {
    const Strip& strip = strips[i];
    if (pages_.back().used_mm + strip.before_mm + strip.height_mm > height(lying_) + kRounding_mm &&
        pages_.back().used_mm > 0.0)
      new_page();
    const bool fresh = pages_.back().used_mm == 0.0;
    if (fresh)
      for (const auto& head : strip.head) {
        Strip again = *head;
        again.group = shown_again(std::move(again.group));
        put(again, 0.0);
      }
    put(strip, fresh ? 0.0 : strip.before_mm);
    if (pages_.back().used_mm > height(lying_) + kRounding_mm)
      throw std::invalid_argument("a strip is higher than a page");
  }
}

bool Flow::has_room_below(const std::vector<Element>& elements) const {
  if (!begun_ || lying_) return false;
  double needed = pages_.back().used_mm + kBeforeChapter_mm;
  for (const Element& element : elements) {
    const auto* strip = std::get_if<Strip>(&element);
    if (strip == nullptr) return std::holds_alternative<Inserted>(element) && needed <= height(lying_);
    needed += strip->before_mm + strip->height_mm;
  }
  return false;
}

void Flow::add(std::size_t chapter, std::vector<Element> elements, bool follows) {
  follows = follows && has_room_below(elements);
  if (follows) std::get<Strip>(elements.front()).before_mm = kBeforeChapter_mm;
  chapter_ = chapter;
  if (!follows) lying_ = begun_ = false;
  std::vector<Strip> run;
  const auto flush = [&] {
    for (std::size_t first = 0; first < run.size();) {
      std::size_t end = first + 1;
      while (end < run.size() && run[end - 1].stays_with_next) ++end;
      place(run, first, end);
      first = end;
    }
    run.clear();
  };
  for (Element& element : elements) {
    if (auto* strip = std::get_if<Strip>(&element)) {
      run.push_back(std::move(*strip));
      continue;
    }
    flush();
    if (const auto* turn = std::get_if<Turn>(&element)) {
      if (turn->lying != lying_) begun_ = false;
      lying_ = turn->lying;
    } else if (auto* inserted = std::get_if<Inserted>(&element)) {
      for (drawing::Sheet& sheet : inserted->sheets) pages_.push_back({lying_, chapter_, {}, 0.0, {std::move(sheet)}});
      if (!inserted->sheets.empty()) begun_ = false;
    } else if (begun_ && pages_.back().used_mm > 0.0) {
      begun_ = false;
    }
  }
  flush();
}

}  // namespace zoneproof::paper

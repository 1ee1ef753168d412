#pragma once
#include <string>
#include <vector>

#include "drawing/sheet.hpp"
#include "paper/pages.hpp"
#include "paper/set_text.hpp"
#include "paper/strip.hpp"

/// What stands on every page about its text: the running head, the foot, and the room between.
namespace zoneproof::paper {

/// Ids of what stands on every page.
inline constexpr const char *kHeadId = "head", *kFootId = "foot";

class PageFrame {
 public:
  /// `titles`: of all chapters; the head is as high as the longest needs.
  PageFrame(const drawing::Ruler& ruler, const Style& style, const std::vector<std::string>& titles);

  drawing::Format format(bool lying) const;
  /// Lying pages have their filing margin above: turned into the binder they are bound on the same side.
  static drawing::Margins margins(bool lying);
  /// Where text goes; its height is a multiple of the grid.
  drawing::Box text(bool lying) const;
  Room room(bool lying) const;

  /// Head and foot of a page of ours.
  void add_to(drawing::Sheet& sheet, bool lying, const std::string& chapter, std::size_t number,
              std::size_t count) const;
  /// The foot alone, below the frame of a page made by others.
  void add_foot_below(drawing::Sheet& sheet, std::size_t number, std::size_t count) const;

 private:
  drawing::Box frame(bool lying) const;
  SetText head_text(const std::string& says, bool strong, double width_mm) const;
  drawing::Group foot(const drawing::Box& line, std::size_t number, std::size_t count) const;

  const drawing::Ruler& ruler_;
  Style style_;
  double head_mm_ = 0.0;
};

}  // namespace zoneproof::paper

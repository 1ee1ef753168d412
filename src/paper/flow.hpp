#pragma once
#include <map>
#include <string>
#include <vector>

#include "paper/page_frame.hpp"
#include "paper/strip.hpp"

namespace zoneproof::paper {

/// A page in the making.
struct Page {
  bool lying = false;
  std::size_t chapter = 0;
  drawing::Group text;                   ///< where it stands on the sheet
  double used_mm = 0.0;                  ///< of the height of its text
  std::vector<drawing::Sheet> inserted;  ///< one: it is a page made by others
};

/// Deals strips out to pages, in order. Strips that stay with the next go to the next page together with it; where all
/// of them together are higher than a page, they are parted after all.
class Flow {
 public:
  explicit Flow(const PageFrame& frame) : frame_(frame) {}

  /// A chapter begins on a page of its own; where it `follows`, below what is there, if all of it up to the first
  /// inserted sheet has room. The page keeps the head of the chapter that it was begun for.
  void add(std::size_t chapter, std::vector<Element> elements, bool follows = false);
  const std::vector<Page>& pages() const { return pages_; }

 private:
  void new_page();
  bool has_room_below(const std::vector<Element>& elements) const;
  void place(const std::vector<Strip>& strips, std::size_t first, std::size_t end);
  void put(const Strip& strip, double before_mm);
  double height(bool lying) const { return frame_.room(lying).height_mm; }

  const PageFrame& frame_;
  std::vector<Page> pages_;
  std::size_t chapter_ = 0;
  bool lying_ = false, begun_ = false;  ///< begun: the last page may take more
};

}  // namespace zoneproof::paper

#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "drawing/list.hpp"
#include "drawing/ruler.hpp"

namespace zoneproof::sheets {

/// Lists of sentences that fill columns one after the other. A heading stays with its first sentence. Where the last
/// column ends before a list does, as many sentences as needed make room for one that tells how many are missing; the
/// lists before it stay.
struct FlowingLists {
  std::vector<drawing::Box> slots;  ///< columns; each is filled from the top
  drawing::Group group;             ///< what was set

  /// An empty heading: none.
  void add(const drawing::Ruler& ruler, const std::string& heading, const std::vector<std::string>& lines);

 private:
  struct Cursor {
    std::size_t slot = 0, items = 0;
    double used_mm = 0.0;  ///< of the slot
  };
  bool set(const drawing::Ruler& ruler, const std::string& says, bool heading, double with_next_mm);
  double height(const drawing::Ruler& ruler, const std::string& says, bool heading) const;
  void back_to(const Cursor& cursor);
  Cursor cursor_;
};

}  // namespace zoneproof::sheets

#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

#include "plane/point.hpp"

/// Inside of this folder: square cells over a box, so that what lies near a point or segment is found without asking
/// all.
namespace zoneproof::plane {

class Bins {
 public:
  /// About `cells` square cells over `box`.
  Bins(const Box& box, std::size_t cells);
  std::size_t count() const { return columns_ * rows_; }
  std::size_t cell_of(Point p) const { return row(p.y) * columns_ + column(p.x); }

  Point middle(std::size_t cell) const;

  /// Calls `visit(cell)` for every cell that comes within `margin` of the segment, and perhaps for some more.
  template <typename Visit>
  void along(Point a, Point b, double margin, Visit visit) const {
    if (a.y > b.y)
      along(b, a, margin, visit);
    else
      upward(a, b, margin + slack_, visit);
  }

 private:
  std::size_t column(double x) const { return index((x - low_.x) / side_, columns_); }
  std::size_t row(double y) const { return index((y - low_.y) / side_, rows_); }
  static std::size_t index(double cells, std::size_t count) {
    if (!(cells > 0.0)) return 0;
    const double last = static_cast<double>(count - 1);
    return cells < last ? static_cast<std::size_t>(cells) : count - 1;
  }

  /// Row by row: the piece of the segment in the row, then all columns beside that piece.
  template <typename Visit>
  void upward(Point a, Point b, double margin, Visit visit) const {
    for (std::size_t r = row(a.y - margin), last = row(b.y + margin); r <= last; ++r) {
      const double low = low_.y + static_cast<double>(r) * side_ - margin, high = low + side_ + 2.0 * margin;
      const double first = r == row(a.y - margin) ? a.x : at(a, b, low), end = r == last ? b.x : at(a, b, high);
      const double left = (first < end ? first : end) - margin, right = (first < end ? end : first) + margin;
      for (std::size_t c = column(left), stop = column(right); c <= stop; ++c) visit(r * columns_ + c);
    }
  }
  /// x of the segment at a height, kept between its ends.
  static double at(Point a, Point b, double y);

  Point low_;
  double side_, slack_;
  std::size_t columns_, rows_;
};

}  // namespace zoneproof::plane

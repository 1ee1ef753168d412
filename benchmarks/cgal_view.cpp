#include "cgal_view.hpp"

#include <CGAL/Arr_naive_point_location.h>
#include <CGAL/Arr_segment_traits_2.h>
#include <CGAL/Arrangement_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangular_expansion_visibility_2.h>

#include <algorithm>
#include <stdexcept>

namespace zoneproof::cgal {

class Views::Implementation {
 public:
  virtual ~Implementation() = default;
  virtual std::vector<plane::Point> from(plane::Point eye) const = 0;
  virtual std::vector<plane::Point> from_side(plane::Point eye, std::size_t corner) const = 0;
  virtual std::size_t corner_count(plane::Point eye) const = 0;
};

namespace {

template <typename K>
class Of : public Views::Implementation {
  using Arrangement = CGAL::Arrangement_2<CGAL::Arr_segment_traits_2<K>>;
  using Visibility = CGAL::Triangular_expansion_visibility_2<Arrangement, CGAL::Tag_true>;
  using Halfedge = typename Arrangement::Halfedge_const_handle;
  using Face = typename Arrangement::Face_const_handle;

 public:
  explicit Of(const std::vector<std::vector<plane::Point>>& rings) : ring_(rings[0]) {
    std::vector<typename K::Segment_2> walls;
    for (const auto& ring : rings) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        if (ring[i] != ring[(i + 1) % ring.size()])
          walls.emplace_back(point(ring[i]), point(ring[(i + 1) % ring.size()]));
      }
    }
    CGAL::insert_non_intersecting_curves(arrangement_, walls.begin(), walls.end());
    std::size_t best = 0;
    for (auto face = arrangement_.faces_begin(); face != arrangement_.faces_end(); ++face) {
      if (face->is_unbounded()) continue;
      const auto holes = static_cast<std::size_t>(std::distance(face->holes_begin(), face->holes_end())) + 1;
      if (holes > best) face_ = face, best = holes;  // holes have none in them
      if (rings.size() == 1) break;
    }
    if (best == 0) throw std::runtime_error("cgal::Views: no face");
    visibility_.attach(arrangement_);
  }

  std::vector<plane::Point> from(plane::Point eye) const override {
    Arrangement out;
    try {
      return corners(visibility_.compute_visibility(point(eye), face_, out));
    } catch (const CGAL::Bad_object_cast&) {  // inexact crossings of lines that do not cross
      return {};
    }
  }

  std::vector<plane::Point> from_side(plane::Point eye, std::size_t corner) const override {
    Arrangement out;
    return corners(visibility_.compute_visibility(point(eye), side(corner), out));
  }

  std::size_t corner_count(plane::Point eye) const override {
    Arrangement out;
    try {
      visibility_.compute_visibility(point(eye), face_, out);
    } catch (const CGAL::Bad_object_cast&) {
    }
    return out.number_of_vertices();
  }

 private:
  static typename K::Point_2 point(plane::Point p) { return {p.x, p.y}; }

  /// The half-edge of the face along that side of the outer ring, with the eye on it and not at its source.
  Halfedge side(std::size_t corner) const {
    const auto a = point(ring_[corner]), b = point(ring_[(corner + 1) % ring_.size()]);
    for (auto h = arrangement_.halfedges_begin(); h != arrangement_.halfedges_end(); ++h) {
      const bool same = (h->source()->point() == a && h->target()->point() == b);
      if (same && h->face() == face_) return h;
    }
    throw std::runtime_error("cgal::Views: no such side");
  }

  template <typename FaceHandle>
  static std::vector<plane::Point> corners(FaceHandle face) {
    std::vector<plane::Point> result;
    if (face->is_unbounded()) return result;
    auto h = face->outer_ccb();
    const auto end = h;
    do {
      const auto& p = h->target()->point();
      result.push_back({CGAL::to_double(p.x()), CGAL::to_double(p.y())});
    } while (++h != end);
    return result;
  }

  std::vector<plane::Point> ring_;
  Arrangement arrangement_;
  typename Arrangement::Face_const_handle face_;
  Visibility visibility_;
};

}  // namespace

Views::Views(const std::vector<std::vector<plane::Point>>& rings, Kernel kernel) {
  if (kernel == Kernel::exact)
    implementation_ = std::make_unique<Of<CGAL::Exact_predicates_exact_constructions_kernel>>(rings);
  else
    implementation_ = std::make_unique<Of<CGAL::Exact_predicates_inexact_constructions_kernel>>(rings);
}

Views::~Views() = default;
std::vector<plane::Point> Views::from(plane::Point eye) const { return implementation_->from(eye); }
std::vector<plane::Point> Views::from_side(plane::Point eye, std::size_t corner) const {
  return implementation_->from_side(eye, corner);
}
std::size_t Views::corner_count(plane::Point eye) const { return implementation_->corner_count(eye); }

}  // namespace zoneproof::cgal

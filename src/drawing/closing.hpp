#pragma once
#include <cairo/cairo.h>

/// What gives cairo's things back, for std::unique_ptr.
namespace zoneproof::drawing {

struct Closing {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};

}  // namespace zoneproof::drawing

#pragma once
#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>

#include <memory>
#include <string>
#include <string_view>

#include "drawing/fonts.hpp"
#include "drawing/ruler.hpp"

/// Fonts as Pango and Cairo know them. Costly to include: only where text is measured or painted.
namespace zoneproof::drawing {

struct Unref {
  void operator()(void* object) const { g_object_unref(object); }
};
template <typename T>
using Owned = std::unique_ptr<T, Unref>;

/// Text is laid out once at this size, in Pango's points, and scaled to any other: so that what is measured is what is
/// painted, at every size and resolution. (Pango counts in 1/1024 point: 0.001 % of a letter here.)
inline constexpr double kLayoutSize = 100.0;

struct Fonts::Inside {
  std::string folder;
  FcConfig* config = nullptr;
  Owned<PangoFontMap> map;
  Owned<PangoContext> context;
  FcCharSet* label_letters = nullptr;  ///< what B612 has

  /// One line at kLayoutSize; its paragraph direction is that of its first letter that has one.
  Owned<PangoLayout> layout(std::string_view text, Face face) const;
  /// Whether B612 lacks a letter of a label, which is then set in Noto Sans as a whole.
  bool falls_back(std::string_view text, Face face) const;
};

}  // namespace zoneproof::drawing

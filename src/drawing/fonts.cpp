#include "drawing/fonts.hpp"

#include <fontconfig/fontconfig.h>
#include <pango/pangofc-fontmap.h>
#include <unistd.h>

#include <array>
#include <map>
#include <mutex>

#include "base/utf8.hpp"
#include "drawing/fonts_inside.hpp"
#include "messages/drawing.hpp"

namespace zoneproof::drawing {

namespace {

constexpr const char* kReadingFamilies = "Noto Sans,Noto Sans Arabic,Noto Sans Hebrew";
constexpr const char* kLabelFamilies = "B612,Noto Sans,Noto Sans Arabic,Noto Sans Hebrew";

const FcChar8* bytes(const std::string& text) { return reinterpret_cast<const FcChar8*>(text.c_str()); }

/// The letters of the font with this family name, as a set of its own.
FcCharSet* letters_of(FcConfig* config, const char* family) {
  FcFontSet* fonts = FcConfigGetFonts(config, FcSetApplication);
  for (int i = 0; fonts && i < fonts->nfont; ++i) {
    FcChar8* name = nullptr;
    FcCharSet* letters = nullptr;
    if (FcPatternGetString(fonts->fonts[i], FC_FAMILY, 0, &name) == FcResultMatch &&
        std::string_view(reinterpret_cast<const char*>(name)) == family &&
        FcPatternGetCharSet(fonts->fonts[i], FC_CHARSET, 0, &letters) == FcResultMatch) {
      return FcCharSetCopy(letters);
    }
  }
  return FcCharSetCreate();
}

/// No hinting and nothing rounded to pixels: a text is as wide on paper as on every screen.
void prepare(PangoContext* context) {
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context, FALSE);
  pango_context_set_language(context, pango_language_from_string("en"));  // not the machine's
  pango_context_set_base_dir(context, PANGO_DIRECTION_LTR);
}

}  // namespace

const std::vector<std::string>& font_files() {
  static const std::vector<std::string> files = {
      "B612-Bold.otf",           "B612-Regular.otf",           "NotoSans-Bold.ttf",       "NotoSans-Regular.ttf",
      "NotoSansArabic-Bold.ttf", "NotoSansArabic-Regular.ttf", "NotoSansHebrew-Bold.ttf", "NotoSansHebrew-Regular.ttf"};
  return files;
}

std::string folder_of_fonts() {
  std::array<char, 4096> path{};
  const ssize_t size = readlink("/proc/self/exe", path.data(), path.size());
  const std::string program(path.data(), size > 0 ? static_cast<std::size_t>(size) : 0);
  return program.substr(0, program.find_last_of('/') + 1) + "fonts";
}

/// Sets of fonts that nobody uses at the moment, by their folder. They are used again and never given back: Pango 1.50
/// seeks fonts in a thread of its own, and what it is still seeking there when its font map ends it looks up in that
/// map afterwards (pango_fc_patterns_unref). A server that drew one sheet after another died of it. One set is in use
/// by one thread at a time, so there are no more of them than threads that draw.
class Fonts::Shelf {
 public:
  static Shelf& the() {
    static Shelf& shelf = *new Shelf;
    return shelf;
  }
  std::unique_ptr<Inside> take(const std::string& folder) {
    const std::lock_guard<std::mutex> lock(mutex_);
    std::vector<std::unique_ptr<Inside>>& free = free_[folder];
    if (free.empty()) return nullptr;
    std::unique_ptr<Inside> one = std::move(free.back());
    free.pop_back();
    return one;
  }
  void put_back(std::unique_ptr<Inside> inside) {
    const std::lock_guard<std::mutex> lock(mutex_);
    free_[inside->folder].push_back(std::move(inside));
  }

 private:
  std::mutex mutex_;
  std::map<std::string, std::vector<std::unique_ptr<Inside>>> free_;
};

Fonts::Fonts(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Fonts::~Fonts() { Shelf::the().put_back(std::move(inside_)); }

std::unique_ptr<Fonts> Fonts::open(const std::string& folder, std::vector<Message>& messages) {
  if (auto kept = Shelf::the().take(folder)) return std::unique_ptr<Fonts>(new Fonts(std::move(kept)));
  FcConfig* config = FcConfigCreate();
  std::vector<std::string> missing;
  for (const std::string& file : font_files()) {
    const std::string path = folder + "/" + file;
    if (access(path.c_str(), R_OK) == 0 && FcConfigAppFontAddFile(config, bytes(path))) continue;
    missing.push_back(file);
  }
  if (!missing.empty()) {
    messages.push_back(say::drawing_font_missing(folder, missing));
    FcConfigDestroy(config);
    return nullptr;
  }
  auto inside = std::make_unique<Inside>();
  inside->folder = folder;
  inside->config = config;
  inside->map.reset(pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT));
  pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(inside->map.get()), inside->config);
  inside->context.reset(pango_font_map_create_context(inside->map.get()));
  prepare(inside->context.get());
  inside->label_letters = letters_of(inside->config, "B612");
  return std::unique_ptr<Fonts>(new Fonts(std::move(inside)));
}

bool Fonts::Inside::falls_back(std::string_view text, Face face) const {
  if (face.role != Role::label) return false;
  for (std::size_t at = 0; at < text.size();) {
    const Utf8Step step = utf8_at(text, at);
    if (!FcCharSetHasChar(label_letters, step.code_point) && !has_no_width(step.code_point)) return true;
    at += step.size;
  }
  return false;
}

Owned<PangoLayout> Fonts::Inside::layout(std::string_view text, Face face) const {
  Owned<PangoLayout> made(pango_layout_new(context.get()));
  PangoFontDescription* font = pango_font_description_new();
  const bool label = face.role == Role::label && !falls_back(text, face);
  pango_font_description_set_family_static(font, label ? kLabelFamilies : kReadingFamilies);
  pango_font_description_set_weight(font, face.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(font, kLayoutSize * PANGO_SCALE);
  pango_layout_set_font_description(made.get(), font);
  pango_font_description_free(font);
  pango_layout_set_single_paragraph_mode(made.get(), TRUE);
  pango_layout_set_auto_dir(made.get(), TRUE);
  pango_layout_set_text(made.get(), text.data(), static_cast<int>(text.size()));
  return made;
}

}  // namespace zoneproof::drawing

#include "drawing/pdf.hpp"

#include <cairo/cairo-pdf.h>
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <stdexcept>

#include "drawing/closing.hpp"
#include "drawing/faults.hpp"
#include "drawing/painter.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kPoint_mm = 25.4 / 72.0;

cairo_status_t append(void* text, const unsigned char* data, unsigned int size) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(data), size);
  return CAIRO_STATUS_SUCCESS;
}

/// As Cairo wants texts in the attributes of a tag: in apostrophes, those and backslashes escaped.
std::string quoted(std::string_view text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

class PdfWriter {
 public:
  PdfWriter(const Document& document, const Fonts& fonts, Palette palette)
      : document_(document), fonts_(fonts), palette_(palette) {}

  std::string run() {
    surface_.reset(cairo_pdf_surface_create_for_stream(append, &bytes_, 1.0, 1.0));
    cairo_pdf_surface_restrict_to_version(surface_.get(), CAIRO_PDF_VERSION_1_5);
    set_metadata();
    for (std::size_t i = 0; i < document_.sheets.size(); ++i) collect_targets(i);
    for (std::size_t i = 0; i < document_.sheets.size(); ++i) add_page(i);
    cairo_surface_finish(surface_.get());
    if (const auto status = cairo_surface_status(surface_.get()); status != CAIRO_STATUS_SUCCESS) {
      throw std::runtime_error(fmt::format("PDF: {}", cairo_status_to_string(status)));
    }
    return std::move(bytes_);
  }

 private:
  void set_metadata() {
    cairo_surface_t* surface = surface_.get();
    const auto set = [&](cairo_pdf_metadata_t which, const std::string& text) {
      if (!text.empty()) cairo_pdf_surface_set_metadata(surface, which, text.c_str());
    };
    set(CAIRO_PDF_METADATA_TITLE, document_.title);
    set(CAIRO_PDF_METADATA_SUBJECT, document_.subject);
    set(CAIRO_PDF_METADATA_KEYWORDS, document_.keywords);
    set(CAIRO_PDF_METADATA_CREATOR, "zoneproof");
    // Cairo writes the clock's time where nobody sets one; an empty one leaves it out.
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, document_.created.c_str());
    if (!document_.created.empty()) set(CAIRO_PDF_METADATA_MOD_DATE, document_.created);
  }

  /// The ids that links of this document lead to, and the sheets they stand on (the first of each).
  void collect_targets(std::size_t sheet) { collect(document_.sheets[sheet].content, sheet); }

  void collect(const Name& name, std::size_t sheet) {
    if (name.link.starts_with('#')) wanted_.insert(name.link.substr(1));
    if (!name.id.empty()) sheets_of_.emplace(name.id, sheet);
  }

  void collect(const Group& group, std::size_t sheet) {
    collect(group.name, sheet);
    for (const Item& item : group.items) {
      if (const auto* inner = std::get_if<Group>(&item.what)) {
        collect(*inner, sheet);
      } else {
        std::visit([&](const auto& what) { collect(what.name, sheet); }, item.what);
      }
    }
  }

  static std::string destination(std::size_t sheet, const std::string& id) {
    return fmt::format("{}/{}", sheet + 1, id);
  }

  /// A link goes to its own sheet where the id stands there, else to the first sheet that has it.
  std::string link_attributes(std::size_t sheet, const Name& name) const {
    if (!name.link.starts_with('#')) return "uri=" + quoted(name.link);
    const std::string id = name.link.substr(1);
    const auto range = sheets_of_.equal_range(id);
    std::size_t target = range.first->second;
    for (auto at = range.first; at != range.second; ++at) {
      if (at->second == sheet) target = sheet;
    }
    return "dest=" + quoted(destination(target, id));
  }

  void add_outline(int parent, const Group& group, std::size_t sheet) {
    for (const Item& item : group.items) {
      const auto* inner = std::get_if<Group>(&item.what);
      if (!inner) continue;
      int mine = parent;
      if (!inner->bookmark.empty()) {
        const Box box = bounds(*inner);
        const std::string place =
            fmt::format("page={} pos=[{:.2f} {:.2f}]", sheet + 1, box.left / kPoint_mm, box.top / kPoint_mm);
        const std::size_t level = static_cast<std::size_t>(std::max(0, inner->bookmark_level));
        const int over = level > 0 ? above(level) : parent;
        mine = cairo_pdf_surface_add_outline(surface_.get(), over, inner->bookmark.c_str(), place.c_str(),
                                             CAIRO_PDF_OUTLINE_FLAG_OPEN);
        if (level > 0) {
          last_of_level_.resize(level - 1, over);  // a level that was left out stands for the one above it
          last_of_level_.push_back(mine);
        }
      }
      add_outline(mine, *inner, sheet);
    }
  }

  /// The last entry of a lower level; the next higher one that there is.
  int above(std::size_t level) const {
    const std::size_t count = std::min(level - 1, last_of_level_.size());
    return count == 0 ? CAIRO_PDF_OUTLINE_ROOT : last_of_level_[count - 1];
  }

  void add_page(std::size_t index) {
    const Sheet& sheet = document_.sheets[index];
    cairo_surface_t* surface = surface_.get();
    cairo_pdf_surface_set_size(surface, sheet.format.width_mm / kPoint_mm, sheet.format.height_mm / kPoint_mm);
    const std::unique_ptr<cairo_t, Closing> cairo(cairo_create(surface));
    cairo_scale(cairo.get(), 1.0 / kPoint_mm, 1.0 / kPoint_mm);
    int entry = CAIRO_PDF_OUTLINE_ROOT;
    if (sheet.in_outline)
      entry = cairo_pdf_surface_add_outline(surface, CAIRO_PDF_OUTLINE_ROOT, sheet.name.title.c_str(),
                                            fmt::format("page={}", index + 1).c_str(), CAIRO_PDF_OUTLINE_FLAG_OPEN);
    cairo_pdf_surface_set_page_label(surface, std::to_string(index + 1).c_str());
    add_outline(entry, sheet.content, index);
    PaintingHooks hooks;
    hooks.before = [&](const Name& name, const Box& box) { open_tags(cairo.get(), index, name, box); };
    hooks.after = [&](const Name& name, const Box&) { close_tags(cairo.get(), name); };
    // A structure must be there, or Cairo 1.16 leaves out the objects that its links refer to.
    cairo_tag_begin(cairo.get(), "Sect", nullptr);
    paint(cairo.get(), fonts_, sheet, palette_, hooks);
    cairo_tag_end(cairo.get(), "Sect");
    if (const auto status = cairo_status(cairo.get()); status != CAIRO_STATUS_SUCCESS) {
      throw std::runtime_error(fmt::format("PDF: {}", cairo_status_to_string(status)));
    }
    cairo_surface_show_page(surface);
  }

  void open_tags(cairo_t* cairo, std::size_t sheet, const Name& name, const Box& box) {
    if (wanted_.contains(name.id)) {
      const std::string place =
          fmt::format("name={} x={:.2f} y={:.2f}", quoted(destination(sheet, name.id)), box.left, box.top);
      cairo_tag_begin(cairo, CAIRO_TAG_DEST, place.c_str());
    }
    if (!name.link.empty()) {
      const std::string area = fmt::format("{} rect=[{:.2f} {:.2f} {:.2f} {:.2f}]", link_attributes(sheet, name),
                                           box.left, box.top, box.width(), box.height());
      cairo_tag_begin(cairo, CAIRO_TAG_LINK, area.c_str());
    }
  }

  void close_tags(cairo_t* cairo, const Name& name) {
    if (!name.link.empty()) cairo_tag_end(cairo, CAIRO_TAG_LINK);
    if (wanted_.contains(name.id)) cairo_tag_end(cairo, CAIRO_TAG_DEST);
  }

  const Document& document_;
  const Fonts& fonts_;
  Palette palette_;
  std::string bytes_;
  std::unique_ptr<cairo_surface_t, Closing> surface_;
  std::set<std::string> wanted_;
  std::multimap<std::string, std::size_t> sheets_of_;
  std::vector<int> last_of_level_;  ///< entries of the outline: of level 1 first
};

}  // namespace

std::string pdf(const Document& document, const Fonts& fonts, Palette palette) {
  require_sound(document);
  return PdfWriter(document, fonts, palette).run();
}

}  // namespace zoneproof::drawing

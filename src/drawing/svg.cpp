#include "drawing/svg.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>
#include <string_view>

#include "drawing/faults.hpp"
#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += c;
    }
  }
  return out;
}

/// Millimetres to a tenth of a micrometre, without needless digits.
std::string number(double value) {
  std::string out = fmt::format("{:.4f}", value);
  out.erase(out.find_last_not_of('0') + 1);
  if (out.back() == '.') out.pop_back();
  return out == "-0" ? "0" : out;
}

std::string pair(Point point) { return number(point.x) + " " + number(point.y); }

/// Arcs of at most half a turn: SVG cannot tell a full circle from none.
void add_arc_data(std::string& out, const Piece& piece) {
  const int parts = std::max(1, static_cast<int>(std::ceil(std::abs(piece.sweep_deg) / 180.0)));
  for (int part = 1; part <= parts; ++part) {
    const double angle = piece.from_deg + piece.sweep_deg * part / parts;
    const Point end = part == parts ? piece.to : at_angle(piece.centre, piece.radius, angle);
    out += fmt::format("A{0} {0} 0 0 {1} {2}", number(piece.radius), piece.sweep_deg > 0 ? 1 : 0, pair(end));
  }
}

std::string path_data(const std::vector<Subpath>& path) {
  std::string out;
  for (const Subpath& subpath : path) {
    out += "M" + pair(subpath.start);
    for (const Piece& piece : subpath.pieces) {
      if (piece.radius > 0) {
        add_arc_data(out, piece);
      } else {
        out += "L" + pair(piece.to);
      }
    }
    if (subpath.closed) out += "Z";
  }
  return out;
}

/// The rules that give inks their colours in one palette.
std::string ink_rules(Palette palette, const std::string& prefix, std::string_view indent) {
  std::string out;
  for (const Ink ink : kInks) {
    const std::string hex = hexadecimal(colour(ink, palette));
    out += fmt::format("{0}.{1}fill-{2}{{fill:{3}}}\n{0}.{1}line-{2}{{stroke:{3}}}\n", indent, prefix, name(ink), hex);
  }
  return out;
}

std::string style(const SvgOptions& options) {
  const std::string& prefix = options.prefix;
  std::string out = ink_rules(options.palette, prefix, "");
  if (options.follow_reader) {
    out += "@media (prefers-color-scheme: dark) {\n" + ink_rules(Palette::dark, prefix, "  ") + "}\n";
    out += "@media print {\n" + ink_rules(Palette::black_and_white, prefix, "  ") + "}\n";
  }
  constexpr std::string_view scripts = "\"Noto Sans Arabic\",\"Noto Sans Hebrew\",sans-serif";
  out += fmt::format(".{}label{{font-family:B612,\"Noto Sans\",{}}}\n", prefix, scripts);
  out += fmt::format(".{}reading{{font-family:\"Noto Sans\",{}}}\n", prefix, scripts);
  return out;
}

class Writer {
 public:
  Writer(const Sheet& sheet, const SvgOptions& options) : sheet_(sheet), options_(options) { collect(sheet.content); }

  std::string run() {
    const std::string id = sheet_.name.id.empty() ? "sheet" : sheet_.name.id;
    const std::string width = number(sheet_.format.width_mm), height = number(sheet_.format.height_mm);
    out_ = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
        "role=\"img\" id=\"{2}{3}\" aria-labelledby=\"{2}{3}.title {2}{3}.desc\">\n",
        width, height, options_.prefix, id);
    out_ += fmt::format("<title id=\"{0}{1}.title\">{2}</title>\n<desc id=\"{0}{1}.desc\">{3}</desc>\n",
                        options_.prefix, id, escaped(sheet_.name.title), escaped(sheet_.description));
    out_ += "<style>\n" + style(options_) + "</style>\n";
    out_ += fmt::format("<rect class=\"{}fill-paper\" width=\"{}\" height=\"{}\"/>\n", options_.prefix, width, height);
    write(sheet_.content);
    out_ += "</svg>\n";
    return std::move(out_);
  }

 private:
  void collect(const Group& group) {
    if (!group.name.id.empty()) ids_.insert(group.name.id);
    for (const Item& item : group.items) {
      if (const auto* inner = std::get_if<Group>(&item.what)) {
        collect(*inner);
      } else {
        std::visit([this](const auto& what) { ids_.insert(what.name.id); }, item.what);
      }
    }
  }

  /// Opens the link, if there is one that leads somewhere; whether it did.
  bool open_link(const Name& name) {
    if (name.link.empty()) return false;
    const bool within = name.link.front() == '#';
    if (within && !ids_.contains(name.link.substr(1))) return false;
    const std::string target = within ? "#" + options_.prefix + name.link.substr(1) : name.link;
    out_ += fmt::format("<a href=\"{}\">", escaped(target));
    return true;
  }

  std::string id_of(const Name& name) const {
    return name.id.empty() ? "" : fmt::format(" id=\"{}{}\"", options_.prefix, name.id);
  }

  /// An element with its link and title; `inner` is what stands in it.
  void element(const Name& name, std::string_view tag, const std::string& attributes, const std::string& inner) {
    const bool linked = open_link(name);
    const std::string title = name.title.empty() ? "" : "<title>" + escaped(name.title) + "</title>";
    out_ += fmt::format("<{}{}{}", tag, id_of(name), attributes);
    out_ += title.empty() && inner.empty() ? "/>" : fmt::format(">{}{}</{}>", title, inner, tag);
    out_ += linked ? "</a>\n" : "\n";
  }

  void write(const Group& group) {
    const bool linked = open_link(group.name);
    out_ += fmt::format("<g{}>", id_of(group.name));
    if (!group.name.title.empty()) out_ += "<title>" + escaped(group.name.title) + "</title>";
    out_ += "\n";
    for (const Item& item : group.items) {
      std::visit([this](const auto& what) { write(what); }, item.what);
    }
    out_ += linked ? "</g></a>\n" : "</g>\n";
  }

  void write(const Shape& shape) {
    if (shape.path.empty()) return;
    std::string classes = shape.fill ? options_.prefix + "fill-" + std::string(name(*shape.fill)) : "";
    std::string attributes;
    if (shape.stroke) {
      const Stroke& stroke = *shape.stroke;
      classes += (classes.empty() ? "" : " ") + options_.prefix + "line-" + std::string(name(stroke.ink));
      attributes += fmt::format(" stroke-width=\"{}\"", number(stroke.width_mm));
      if (stroke.cap == Cap::round) attributes += " stroke-linecap=\"round\"";
      if (stroke.join == Join::round) attributes += " stroke-linejoin=\"round\"";
      if (!stroke.dashes_mm.empty()) {
        attributes += " stroke-dasharray=\"";
        for (std::size_t i = 0; i < stroke.dashes_mm.size(); ++i) {
          attributes += (i > 0 ? " " : "") + number(stroke.dashes_mm[i]);
        }
        attributes += "\"";
      }
    }
    attributes =
        fmt::format(" class=\"{}\"{}{}", classes, shape.fill ? " fill-rule=\"evenodd\"" : " fill=\"none\"", attributes);
    element(shape.name, "path", fmt::format("{} d=\"{}\"", attributes, path_data(shape.path)), "");
  }

  void write(const TextLine& text) {
    if (text.content.empty()) return;
    // Where a text runs from right to left, its start is its right end.
    const bool reversed = text.extent.right_to_left;
    const char* anchor = text.align == Align::middle                ? " text-anchor=\"middle\""
                         : (text.align == Align::right) != reversed ? " text-anchor=\"end\""
                                                                    : "";
    const bool label = text.face.role == Role::label && !text.extent.fallback;
    const std::string attributes = fmt::format(
        " class=\"{0}{1} {0}fill-{2}\" x=\"{3}\" y=\"{4}\" font-size=\"{5}\"{6}{7}{8} textLength=\"{9}\" "
        "lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\"",
        options_.prefix, label ? "label" : "reading", name(text.ink), number(text.at.x), number(text.at.y),
        number(text.size_mm), text.face.bold ? " font-weight=\"bold\"" : "", anchor,
        reversed ? " direction=\"rtl\"" : "", number(text.extent.width));
    element(text.name, "text", attributes, escaped(text.content));
  }

  const Sheet& sheet_;
  const SvgOptions& options_;
  std::set<std::string> ids_;
  std::string out_;
};

}  // namespace

std::string svg(const Document& document, std::size_t sheet, const SvgOptions& options) {
  require_sound(document);
  return Writer(document.sheets.at(sheet), options).run();
}

std::vector<std::string> svgs(const Document& document, const SvgOptions& options) {
  require_sound(document);
  std::vector<std::string> all;
  for (const Sheet& sheet : document.sheets) all.push_back(Writer(sheet, options).run());
  return all;
}

}  // namespace zoneproof::drawing

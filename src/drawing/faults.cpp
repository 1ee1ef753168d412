#include "drawing/faults.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <regex>
#include <set>
#include <stdexcept>

#include "base/utf8.hpp"
#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

bool plain(std::string_view text) { return printable(text, text.size()) == text; }

bool well_formed_id(std::string_view id) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  const auto further = [&](char c) { return letter(c) || (c >= '0' && c <= '9') || c == '_' || c == '-' || c == '.'; };
  return letter(id.front()) && std::all_of(id.begin(), id.end(), further);
}

bool finite(Point point) { return std::isfinite(point.x) && std::isfinite(point.y); }
bool above_zero(double size) { return std::isfinite(size) && size > 0; }

bool outward(std::string_view link) {
  return link.starts_with("http://") || link.starts_with("https://") || link.starts_with("mailto:");
}

class Inspection {
 public:
  explicit Inspection(const Document& document) : document_(document) {}

  std::vector<std::string> run() {
    static const std::regex date(R"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ)");
    if (!document_.created.empty() && !std::regex_match(document_.created, date)) say("the date is not in UTC");
    if (document_.sheets.empty()) say("the document has no sheet");
    for (const std::string* text : {&document_.title, &document_.subject, &document_.keywords}) {
      if (!plain(*text)) say("a text about the document is not plain");
    }
    for (const Sheet& sheet : document_.sheets) {
      ids_on_sheet_.clear();
      if (!above_zero(sheet.frame().width()) || !above_zero(sheet.frame().height())) say("a sheet has no room");
      if (!plain(sheet.description)) say("a description is not plain");
      look_at(sheet.name);
      look_at(sheet.content);
    }
    for (const std::string& link : inner_links_) {
      if (!ids_.contains(link)) say(fmt::format("nothing has the id \"{}\" of a link", link));
    }
    return std::move(found_);
  }

 private:
  void say(std::string sentence) { found_.push_back(std::move(sentence)); }

  void look_at(const Name& name) {
    if (!name.id.empty()) {
      if (!well_formed_id(name.id)) say(fmt::format("the id \"{}\" is badly formed", name.id));
      if (!ids_on_sheet_.insert(name.id).second) say(fmt::format("the id \"{}\" is used twice on a sheet", name.id));
      ids_.insert(name.id);
    }
    if (!plain(name.title)) say(fmt::format("the title of \"{}\" is not plain", name.id));
    if (name.link.empty()) return;
    if (!plain(name.link)) say(fmt::format("the link of \"{}\" is not plain", name.id));
    if (name.link.front() == '#') {
      inner_links_.insert(name.link.substr(1));
    } else if (!outward(name.link)) {
      say(fmt::format("the link \"{}\" is of no kind that is allowed", name.link));
    }
  }

  void look_at(const Shape& shape) {
    look_at(shape.name);
    for (const Subpath& subpath : shape.path) {
      bool sound = finite(subpath.start);
      for (const Piece& piece : subpath.pieces) {
        sound = sound && finite(piece.to) && finite(piece.centre) && std::isfinite(piece.radius) && piece.radius >= 0 &&
                std::isfinite(piece.from_deg) && std::abs(piece.sweep_deg) <= 360.0;
      }
      if (!sound) say(fmt::format("the path of \"{}\" has a place that is no number", shape.name.id));
    }
    if (!shape.stroke) return;
    const auto& dashes = shape.stroke->dashes_mm;
    const bool negative = std::any_of(dashes.begin(), dashes.end(), [](double dash) { return !(dash >= 0); });
    const bool nothing = !dashes.empty() && std::all_of(dashes.begin(), dashes.end(), [](double d) { return d == 0; });
    if (!above_zero(shape.stroke->width_mm) || negative || nothing || dashes.size() % 2 != 0) {
      say(fmt::format("the line of \"{}\" cannot be drawn", shape.name.id));
    }
  }

  void look_at(const TextLine& text) {
    look_at(text.name);
    if (!plain(text.content)) say(fmt::format("the text of \"{}\" is not plain", text.name.id));
    if (!finite(text.at) || !above_zero(text.size_mm)) say(fmt::format("the text \"{}\" has no place", text.content));
    if (!text.content.empty() && !above_zero(text.extent.box.height())) {
      say(fmt::format("the text \"{}\" was not measured", text.content));
    }
  }

  void look_at(const Group& group) {
    look_at(group.name);
    if (!plain(group.bookmark)) say(fmt::format("the bookmark of \"{}\" is not plain", group.name.id));
    for (const Item& item : group.items) {
      std::visit([this](const auto& what) { look_at(what); }, item.what);
    }
  }

  const Document& document_;
  std::set<std::string> ids_, ids_on_sheet_, inner_links_;
  std::vector<std::string> found_;
};

}  // namespace

std::vector<std::string> faults(const Document& document) { return Inspection(document).run(); }

void require_sound(const Document& document) {
  const std::vector<std::string> found = faults(document);
  if (!found.empty()) throw std::invalid_argument(fmt::format("no drawing: {}", fmt::join(found, "; ")));
}

std::vector<std::string> layout_faults(const Sheet& sheet) {
  struct Placed {
    const TextLine* text;
    Box box;
  };
  std::vector<Placed> texts;
  each(
      sheet.content, [](const Shape&) {},
      [&](const TextLine& text) {
        texts.push_back({&text, text.box()});
      });
  std::vector<std::string> found;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    if (!inside(texts[i].box, sheet.frame())) {
      found.push_back(fmt::format("\"{}\" leaves the frame", texts[i].text->content));
    }
    for (std::size_t j = i + 1; j < texts.size(); ++j) {
      if (!overlap(texts[i].box, texts[j].box)) continue;
      found.push_back(fmt::format("\"{}\" overlaps \"{}\"", texts[i].text->content, texts[j].text->content));
    }
  }
  return found;
}

}  // namespace zoneproof::drawing

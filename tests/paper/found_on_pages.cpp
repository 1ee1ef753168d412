#include "paper/found_on_pages.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "drawing/faults.hpp"
#include "drawing/shapes.hpp"

namespace zoneproof::paper {

namespace {

void collect(const drawing::Group& group, const std::string& prefix, std::size_t page, std::vector<Found>& found) {
  if (!group.name.id.empty() && group.name.id.starts_with(prefix)) found.push_back({group.name.id, page, &group});
  for (const drawing::Item& item : group.items)
    if (const auto* inner = std::get_if<drawing::Group>(&item.what)) collect(*inner, prefix, page, found);
}

std::string without_blanks(std::string text) {
  text.erase(std::remove(text.begin(), text.end(), ' '), text.end());
  return text;
}

}  // namespace

std::vector<Found> groups_with(const std::vector<drawing::Sheet>& sheets, const std::string& prefix) {
  std::vector<Found> found;
  for (std::size_t i = 0; i < sheets.size(); ++i) collect(sheets[i].content, prefix, i + 1, found);
  return found;
}

std::string letters_of(const drawing::Group& group) {
  std::string out;
  drawing::each(
      group, [](const drawing::Shape&) {}, [&](const drawing::TextLine& text) { out += text.content; });
  return without_blanks(out);
}

std::string letters_of(const std::string& says) { return without_blanks(printable(says, says.size())); }

std::vector<drawing::TextLine> texts_of(const drawing::Sheet& sheet) {
  std::vector<drawing::TextLine> texts;
  drawing::each(
      sheet.content, [](const drawing::Shape&) {}, [&](const drawing::TextLine& text) { texts.push_back(text); });
  return texts;
}

std::vector<std::string> faults_on(const std::vector<drawing::Sheet>& sheets) {
  std::vector<std::string> found;
  for (const drawing::Sheet& sheet : sheets) {
    for (std::string& fault : drawing::layout_faults(sheet)) found.push_back(sheet.name.id + ": " + fault);
    const drawing::Box frame = drawing::grown(sheet.frame(), 1e-6);
    drawing::each(
        sheet.content,
        [&](const drawing::Shape& shape) {
          if (!shape.path.empty() && !drawing::inside(drawing::bounds(shape.path), frame))
            found.push_back(sheet.name.id + ": a shape leaves the frame");
        },
        [](const drawing::TextLine&) {});
  }
  return found;
}

}  // namespace zoneproof::paper

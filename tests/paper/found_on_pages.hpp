#pragma once
#include <string>
#include <vector>

#include "drawing/sheet.hpp"

/// What stands on sheets, for tests.
namespace zoneproof::paper {

/// All groups with an id that begins with `prefix`, in the order of pages and drawing.
struct Found {
  std::string id;
  std::size_t page = 0;  ///< from 1
  const drawing::Group* group = nullptr;
};
std::vector<Found> groups_with(const std::vector<drawing::Sheet>& sheets, const std::string& prefix);

/// All letters of a group's texts in drawing order, blanks left out.
std::string letters_of(const drawing::Group& group);
std::string letters_of(const std::string& says);  ///< as drawn: made printable

/// Every text and every line of a sheet, whatever group it is in.
std::vector<drawing::TextLine> texts_of(const drawing::Sheet& sheet);
/// Texts that meet or leave the frame, shapes that leave it: sentences.
std::vector<std::string> faults_on(const std::vector<drawing::Sheet>& sheets);

}  // namespace zoneproof::paper

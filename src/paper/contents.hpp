#pragma once
#include <map>
#include <string>
#include <vector>

#include "paper/pages.hpp"
#include "paper/strip.hpp"

/// The first page: what the document is, and where everything stands.
namespace zoneproof::paper {

struct ContentsEntry {
  int level = 1;
  std::string says, id;
};

/// `page_of`: page number by id; an id without one has a blank of the same size, so that the pages of the contents can
/// be counted before anything is numbered.
std::vector<Element> contents(const drawing::Ruler& ruler, const Stamp& stamp,
                              const std::vector<ContentsEntry>& entries,
                              const std::map<std::string, std::size_t>& page_of, const Room& room);

/// The id of the table of contents, which no chapter may have.
inline constexpr const char* kContentsId = "contents";

}  // namespace zoneproof::paper

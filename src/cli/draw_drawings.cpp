#include "cli/draw_drawings.hpp"

#include "cli/reading.hpp"
#include "cli/saved_drawings.hpp"
#include "drawing/fonts.hpp"
#include "handover/drawing_of_site.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

handover::DrawingAsked wanted(const DrawOptions& asked) { return {asked.drawing, asked.of, asked.ink, asked.volts}; }

}  // namespace

std::vector<Message> drawing_problems(const DrawOptions& asked) {
  std::vector<Message> problems = handover::drawing_problems(wanted(asked));
  if (asked.output.empty()) {
    problems.push_back(say::draw_file_wanted());
    return problems;
  }
  for (Message& problem : path_problems(asked.output, {asked.site, asked.replace}))
    problems.push_back(std::move(problem));
  return problems;
}

Drawn draw(const site::Site& site, const DrawOptions& asked, Screen& screen) {
  Drawn drawn;
  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), drawn.problems);
  if (!fonts) return drawn;
  const SavedAs as = {asked.site, asked.replace, told_at_once_on(screen)};
  drawing::Document document = document_of(site);
  handover::DrawingMade made = handover::drawing_of_site(site, wanted(asked), *fonts);
  document.sheets = std::move(made.sheets);
  drawn.problems = std::move(made.problems);
  drawn.notes = std::move(made.notes);
  if (drawn.problems.empty())
    save_drawing(document, asked.output, extension_of(asked.output), *fonts, as, drawn,
                 handover::palette_of(asked.ink));
  return drawn;
}

}  // namespace zoneproof::cli

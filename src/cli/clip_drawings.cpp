#include "cli/clip_drawings.hpp"

#include "cli/reading.hpp"
#include "cli/saved_drawings.hpp"
#include "drawing/fonts.hpp"
#include "drawing/pango_ruler.hpp"
#include "messages/cli.hpp"
#include "results/evidence_words.hpp"
#include "sheets/clip_sheet.hpp"

namespace zoneproof::cli {

std::vector<Message> drawing_problems(const ClipOptions& asked) {
  if (asked.drawing.empty()) return {};
  return path_problems(asked.drawing, {asked.site, asked.replace});
}

Drawn draw(const site::Site& site, const results::ClipAnswer& answer, const ClipOptions& asked, Screen& screen) {
  Drawn drawn;
  if (asked.drawing.empty()) return drawn;
  std::vector<sheets::ClipOfAlarm> clips;
  for (const results::ZoneClips& zone : answer.zones)
    for (const results::ClipTold& clip : zone.clips) clips.push_back({clip.log, zone.crossing.fast});
  if (clips.empty()) {
    drawn.problems.push_back(say::clip_of_nothing());
    return drawn;
  }
  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), drawn.problems);
  if (!fonts) return drawn;
  const SavedAs as = {asked.site, asked.replace, told_at_once_on(screen)};
  drawing::Document document = document_of(site);
  sheets::ClipSheetOptions options;
  options.called = results::names_of_places(site);
  document.sheets = sheets::clip_sheets(drawing::PangoRuler(*fonts), site, clips, options);
  save_drawing(document, asked.drawing, extension_of(asked.drawing), *fonts, as, drawn);
  return drawn;
}

}  // namespace zoneproof::cli

#include "demo_views.hpp"

#include <stdexcept>

#include "base/file.hpp"
#include "base/message.hpp"
#include "drawing/specimen.hpp"
#include "sheets/expected_view_of.hpp"
#include "site/file.hpp"

namespace zoneproof::sheets {

drawing::Document demo_views(const std::string& name, const std::function<void(site::Site&)>& change) {
  const std::string path = std::string(ZONEPROOF_SOURCE_DIR "/data/demo/") + name + ".site.json";
  std::vector<Message> messages;
  const auto text_of_site = read_file(path, messages);
  if (!text_of_site) throw std::runtime_error(full_text(messages.front()));
  site::ReadResult read = site::read_site(*text_of_site, path);
  if (!read.site) throw std::runtime_error(full_text(read.messages.front()));
  if (change) change(*read.site);
  const sight::Scene scene(*read.site);
  std::vector<sight::ZoneView> zones;
  for (const auto& [id, zone] : read.site->zones) zones.push_back(scene.view(id, false));
  drawing::Document document;
  document.title = read.site->name;
  document.created = "2026-03-01T12:00:00Z";
  for (const auto& [id, camera] : read.site->cameras) {
    auto view = expected_view_of(scene, zones, id);
    if (!view) continue;
    view->words.title = {read.site->name, "", "1", std::string(64, '0'), "2026-03-01", std::nullopt, 1, 1};
    document.sheets.push_back(expected_view_sheet(drawing::test_ruler(), view->camera, view->view, view->words));
  }
  return document;
}

}  // namespace zoneproof::sheets

#include "handover/demo_site.hpp"

#include <map>
#include <memory>
#include <stdexcept>

#include "base/file.hpp"
#include "base/message.hpp"
#include "site/file.hpp"

namespace zoneproof::handover {

site::Site demo_site(const std::string& name) {
  const std::string path = std::string(ZONEPROOF_SOURCE_DIR "/data/demo/") + name + ".site.json";
  std::vector<Message> messages;
  const auto text_of_site = read_file(path, messages);
  if (!text_of_site) throw std::runtime_error(full_text(messages.front()));
  site::ReadResult read = site::read_site(*text_of_site, path);
  if (!read.site) throw std::runtime_error(full_text(read.messages.front()));
  return *std::move(read.site);
}

const Answers& demo_answers(const std::string& name) {
  struct Known {
    site::Site site;
    Answers answers;  // points into it
  };
  static std::map<std::string, std::unique_ptr<Known>> all;
  std::unique_ptr<Known>& known = all[name];
  if (!known) {
    known = std::make_unique<Known>();
    known->site = demo_site(name);
    known->answers = answers_of(known->site, readings_of(known->site));
  }
  return known->answers;
}

paper::Style demo_style(const site::Site& site, drawing::Format paper) {
  return {
      {site.name, "Handover file", std::to_string(site.revision), site::site_hash(site), "2026-03-01"}, paper, true};
}

}  // namespace zoneproof::handover

// Any bytes as a site file: a whole site, which is written and read again as the same, or messages that say where and
// why not. Behind a record separator (0x1e) stands the text of a file of own parts.
#include <cstdint>
#include <string_view>

#include "fuzz/held.hpp"
#include "site/file.hpp"

namespace {

using zoneproof::fuzz::hold;

void hold_reading(const zoneproof::site::ReadResult& read, const std::string& site, const std::string& parts) {
  using namespace zoneproof;
  hold(read.site.has_value() != any_error(read.messages), "either a site or an error");
  if (read.site) return fuzz::hold_site(*read.site);
  std::vector<Message> of_site, of_parts;
  for (const Message& message : read.messages) (message.place.file == parts ? of_parts : of_site).push_back(message);
  if (any_error(of_site)) fuzz::hold_refusal(of_site, site);
  if (any_error(of_parts)) fuzz::hold_refusal(of_parts, parts);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const std::size_t parts = text.find('\x1e');
  if (parts == std::string_view::npos) {
    hold_reading(zoneproof::site::read_site(text, "site"), "site", "no parts");
  } else {
    hold_reading(
        zoneproof::site::read_site_with_parts(text.substr(0, parts), "site", text.substr(parts + 1), "own parts"),
        "site", "own parts");
  }
  return 0;
}

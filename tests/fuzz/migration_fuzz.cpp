// Any document of a format with two older versions (tests/site/old_format.hpp): read, with findings that have their
// places, and what was read is written and read again as the same, now of the present version.
#include <cstdint>
#include <string_view>

#include "base/json_text.hpp"
#include "fuzz/held.hpp"
#include "site/findings.hpp"
#include "site/old_format.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;
using Json = nlohmann::ordered_json;

struct Read {
  site::Site site;
  site::DocumentReading reading;
  std::vector<Message> messages;
};

Read read(const Json& json) {
  Read out;
  site::Findings findings("old");
  out.reading = site::read_document(site::old_format(), json, &out.site, findings);
  out.messages = findings.by_pointer();
  return out;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::vector<Message> faults;
  const Json json = parse_json({reinterpret_cast<const char*>(data), size}, "old", faults);
  if (any_error(faults)) return 0;
  const Read first = read(json);
  for (const Message& message : first.messages) hold(!full_text(message).empty(), "a message has words");
  if (!first.reading.usable) {
    hold(any_error(first.messages), "what is not usable is told");
    return 0;
  }
  if (first.reading.migrated_from) hold(*first.reading.migrated_from < 1, "only older versions are migrated");
  if (any_error(first.messages)) return 0;
  const Json written = site::write_document(site::old_format(), &first.site);
  const Read second = read(written);
  hold(second.reading.usable && !any_error(second.messages), "what was migrated is read");
  hold(!second.reading.migrated_from, "and needs no migration");
  hold(site::same_site(first.site, second.site), "and says the same");
  return 0;
}

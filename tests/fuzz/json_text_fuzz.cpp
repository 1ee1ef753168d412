// Any bytes: parse_json() neither crashes nor hangs, accepts exactly what the JSON library accepts (apart from what is
// refused on purpose), and what it accepts survives being written, read and located. Built with the preset "fuzz".
#include <cstdint>
#include <nlohmann/json.hpp>
#include <string_view>

#include "base/json_place.hpp"
#include "base/json_text.hpp"
#include "fuzz/held.hpp"

namespace {

using zoneproof::fuzz::hold;

bool refused_on_purpose(const std::vector<zoneproof::Message>& messages) {
  for (const zoneproof::Message& message : messages) {
    if (message.code == "json_duplicate_key" || message.code == "json_too_deep") return true;
  }
  return false;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace zoneproof;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::vector<Message> messages;
  const auto value = parse_json(text, "fuzz.json", messages);
  for (const Message& message : messages) hold(!full_text(message).empty(), "a message has words");
  const bool accepted = !any_error(messages);
  const bool library_reads_on = text.find('\0') == std::string_view::npos;  // it takes a NUL for the end
  if (library_reads_on && !refused_on_purpose(messages))
    hold(accepted == nlohmann::json::accept(text), "accepts what the library accepts");

  if (!accepted) fuzz::hold_refusal(messages, "fuzz.json");
  locate(text, {"", "/a", "/0/a~1b", "/a/0/0"});
  if (!accepted) return 0;
  const std::string written = write_json(value);
  std::vector<Message> again;
  hold(write_json(parse_json(written, "", again)) == written, "what is written reads as the same");
  hold(again.empty(), "what is written is read without a word");
  return 0;
}

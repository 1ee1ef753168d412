// Any bytes as a patch of a small site: the next revision, whose undo takes the content back, or messages that say
// where and why not. A text that begins with [ is taken for the operations alone.
#include <cstdint>
#include <string>
#include <string_view>

#include "fuzz/held.hpp"
#include "site/patch.hpp"
#include "site/small_site.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;

const site::Site& base() {
  static const site::Site site = *site::read_site(site::kSmallSite, "small").site;
  return site;
}

std::string patch_of(std::string_view text) {
  if (text.empty() || text.front() != '[') return std::string(text);
  static const std::string head = "{\"format\": \"zoneproof-patch\", \"version\": 1, \"base_revision\": {\"number\": " +
                                  std::to_string(base().revision) + ", \"sha256\": \"" + site::site_hash(base()) +
                                  "\"}, \"operations\": ";
  return head + std::string(text) + "}";
}

bool same_content(site::Site a, const site::Site& b) {
  a.revision = b.revision;
  return site::same_site(a, b);
}

void hold_refused(const std::vector<Message>& messages) {
  std::vector<Message> of_patch, of_site;
  for (const Message& message : messages) (message.place.file == "patch" ? of_patch : of_site).push_back(message);
  if (any_error(of_patch)) fuzz::hold_refusal(of_patch, "patch");
  if (any_error(of_site)) fuzz::hold_refusal(of_site, "small");
  hold(any_error(messages), "a refusal has an error");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string patch = patch_of({reinterpret_cast<const char*>(data), size});
  const site::PatchResult result = site::apply_patch(base(), patch, "patch", "small");
  if (!result.site) {
    hold_refused(result.messages);
    return 0;
  }
  hold(!any_error(result.messages), "either a site or an error");
  hold(result.site->revision == base().revision + 1, "the next revision");
  fuzz::hold_site(*result.site);

  const site::PatchResult undone = site::apply_patch(*result.site, result.undo, "undo");
  for (const Message& message : undone.messages) std::fprintf(stderr, "%s\n", full_text(message).c_str());
  hold(undone.site.has_value(), "the undo applies");
  hold(same_content(*undone.site, base()), "the undo takes the content back");

  const site::PatchResult again = site::apply_patch(base(), site::patch_between(base(), *result.site), "between");
  hold(again.site.has_value(), "the difference applies");
  hold(site::same_site(*again.site, *result.site), "the difference leads to the same site");
  return 0;
}

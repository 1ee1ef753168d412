#include "browser/exports.hpp"

#include <cstdlib>
#include <cstring>
#include <string>

#include "browser/door.hpp"

namespace {

using zoneproof::browser::Door;

Door& door() noexcept {
  static Door the_door;
  return the_door;
}

char* handed_out(const std::string& text) noexcept {
  if (text.empty()) return nullptr;
  auto* copy = static_cast<char*>(std::malloc(text.size() + 1));
  if (copy != nullptr) std::memcpy(copy, text.c_str(), text.size() + 1);
  return copy;
}

}  // namespace

extern "C" {

char* zoneproof_space(std::size_t size) { return static_cast<char*>(std::malloc(size == 0 ? 1 : size)); }

void zoneproof_free(char* text) { std::free(text); }

char* zoneproof_open(const char* site, std::size_t size, const char* name, std::size_t name_size, const char* parts,
                     std::size_t parts_size, const char* parts_name, std::size_t parts_name_size) {
  try {
    const std::string called(name, name_size);
    if (parts == nullptr) return handed_out(door().open({site, size}, called));
    const zoneproof::browser::OwnParts own = {{parts, parts_size}, {parts_name, parts_name_size}};
    return handed_out(door().open({site, size}, called, &own));
  } catch (...) {  // no memory for a name
    return nullptr;
  }
}

char* zoneproof_apply(int session, const char* patch, std::size_t size) {
  return handed_out(door().apply(session, {patch, size}));
}

char* zoneproof_ask(int session, const char* question, std::size_t size) {
  return handed_out(door().ask(session, {question, size}));
}

char* zoneproof_site(int session) { return handed_out(door().site(session)); }

char* zoneproof_close(int session) { return handed_out(door().close(session)); }

}  // extern "C"

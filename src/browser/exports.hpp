#pragma once
#include <cstddef>

/// The C functions that WebAssembly exports, on one door (door.hpp) for the whole program. Texts go in as bytes with
/// their length, in room from zoneproof_space. A text comes out ending in a zero byte (JSON holds none itself) and is
/// given back with zoneproof_free. Null says that there was no memory for the answer; an edit whose answer could not be
/// handed out may have been made: ask zoneproof_site. One thread at a time.
extern "C" {

/// Room for a text of `size` bytes; null where there is none.
char* zoneproof_space(std::size_t size);
/// Gives room or an answer back.
void zoneproof_free(char* text);

/// Door::open. `name` and `parts_name` are what messages call the texts; `parts` null: no own parts beside the site.
char* zoneproof_open(const char* site, std::size_t size, const char* name, std::size_t name_size, const char* parts,
                     std::size_t parts_size, const char* parts_name, std::size_t parts_name_size);
char* zoneproof_apply(int session, const char* patch, std::size_t size);
char* zoneproof_ask(int session, const char* question, std::size_t size);
char* zoneproof_site(int session);
char* zoneproof_close(int session);
}

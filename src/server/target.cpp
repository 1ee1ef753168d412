#include "server/target.hpp"

#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "base/utf8.hpp"

namespace zoneproof::server {

namespace {

int hex_of(char digit) {
  if (digit >= '0' && digit <= '9') return digit - '0';
  if (digit >= 'a' && digit <= 'f') return digit - 'a' + 10;
  if (digit >= 'A' && digit <= 'F') return digit - 'A' + 10;
  return -1;
}

bool holds_control(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; });
}

bool is_sound(const std::string& text) { return !holds_control(text) && first_invalid_utf8(text) == std::string::npos; }

bool is_sound_segment(const std::string& text) {
  return is_sound(text) && text != "." && text != ".." && text.find_first_of("/\\") == std::string::npos;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

/// Calls `take` with every part of a list, trimmed.
template <class Take>
void each_part(std::string_view list, char mark, Take take) {
  while (!list.empty()) {
    const std::size_t end = std::min(list.find(mark), list.size());
    take(trimmed(list.substr(0, end)));
    list.remove_prefix(std::min(end + 1, list.size()));
  }
}

std::string lower(std::string_view text) {
  std::string small(text);
  std::transform(small.begin(), small.end(), small.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return small;
}

struct Weighed {
  std::string_view word;
  double weight = 1.0;
};

/// "de-AT;q=0.8" of a list that is ordered by wish.
Weighed weighed(std::string_view part) {
  const std::size_t mark = part.find(';');
  Weighed read{trimmed(part.substr(0, mark))};
  if (mark == std::string_view::npos) return read;
  const std::string_view rest = trimmed(part.substr(mark + 1));
  if (rest.rfind("q=", 0) != 0) return read;
  const std::string digits(rest.substr(2, 5));
  char* end = nullptr;
  const double weight = std::strtod(digits.c_str(), &end);
  read.weight = end == digits.c_str() || !(weight >= 0.0 && weight <= 1.0) ? 0.0 : weight;
  return read;
}

bool read_path(std::string_view path, Target& target) {
  if (path.empty() || path.front() != '/') return false;
  path.remove_prefix(1);
  while (true) {
    const std::size_t end = std::min(path.find('/'), path.size());
    const auto segment = percent_decoded(path.substr(0, end), false);
    if (!segment || !is_sound_segment(*segment)) return false;
    target.path.push_back(*segment);
    if (end == path.size()) return true;
    path.remove_prefix(end + 1);
  }
}

bool read_query(std::string_view query, Target& target) {
  bool sound = true;
  each_part(query, '&', [&](std::string_view pair) {
    if (pair.empty()) return;
    const std::size_t mark = std::min(pair.find('='), pair.size());
    const auto key = percent_decoded(pair.substr(0, mark), true);
    const auto value = percent_decoded(mark < pair.size() ? pair.substr(mark + 1) : std::string_view(), true);
    sound = sound && key && value && is_sound(*key) && is_sound(*value) && target.query.emplace(*key, *value).second;
  });
  return sound;
}

}  // namespace

std::string Target::asked(const std::string& key) const {
  const auto found = query.find(key);
  return found == query.end() ? std::string() : found->second;
}

std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_blank) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '+' && plus_is_blank) {
      out += ' ';
    } else if (text[i] != '%') {
      out += text[i];
    } else {
      if (i + 2 >= text.size()) return std::nullopt;
      const int high = hex_of(text[i + 1]), low = hex_of(text[i + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      out += static_cast<char>(16 * high + low);
      i += 2;
    }
  }
  return out;
}

std::optional<Target> read_target(std::string_view target) {
  if (target.find('#') != std::string_view::npos) return std::nullopt;
  const std::size_t mark = std::min(target.find('?'), target.size());
  Target read;
  if (!read_path(target.substr(0, mark), read)) return std::nullopt;
  if (mark < target.size() && !read_query(target.substr(mark + 1), read)) return std::nullopt;
  return read;
}

std::string cookie_of(const Request& request, std::string_view name) {
  std::string found;
  bool doubtful = false;
  for (const Header& header : request.headers) {
    if (lower(header.name) != "cookie") continue;
    each_part(header.value, ';', [&](std::string_view pair) {
      const std::size_t mark = pair.find('=');
      if (mark == std::string_view::npos || pair.substr(0, mark) != name) return;
      const std::string_view value = pair.substr(mark + 1);
      doubtful = doubtful || (!found.empty() && value != found);
      found = value;
    });
  }
  return doubtful ? std::string() : found;
}

Language language_of(std::string_view accept_language) {
  Language best = Language::english;
  double most = 0.0;
  each_part(accept_language, ',', [&](std::string_view part) {
    const Weighed wish = weighed(part);
    const auto language = language_called(lower(wish.word.substr(0, wish.word.find('-'))));
    if (!language || wish.weight <= most) return;
    best = *language;
    most = wish.weight;
  });
  return best;
}

bool takes_gzip(std::string_view accept_encoding) {
  bool takes = false;
  each_part(accept_encoding, ',', [&](std::string_view part) {
    const Weighed wish = weighed(part);
    if (lower(wish.word) == "gzip") takes = wish.weight > 0.0;
  });
  return takes;
}

bool names_tag(std::string_view if_none_match, std::string_view tag) {
  bool names = false;
  each_part(if_none_match, ',', [&](std::string_view part) {
    if (part.rfind("W/", 0) == 0) part.remove_prefix(2);
    names = names || part == tag || part == "*";
  });
  return names;
}

std::string host_without_port(std::string_view host) {
  std::string_view name = host, port;
  if (!host.empty() && host.front() == '[') {
    const std::size_t end = host.find(']');
    if (end == std::string_view::npos) return {};
    name = host.substr(1, end - 1);
    port = host.substr(end + 1);
  } else if (const std::size_t mark = host.find(':'); mark != std::string_view::npos) {
    name = host.substr(0, mark);
    port = host.substr(mark);
  }
  const bool digits = port.size() > 1 &&
                      std::all_of(port.begin() + 1, port.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
  if (!port.empty() && (port.front() != ':' || !digits)) return {};
  if (name.size() > 1 && name.back() == '.') name.remove_suffix(1);
  const bool sound = std::all_of(name.begin(), name.end(), [](unsigned char c) {
    return std::isalnum(c) != 0 || c == '.' || c == '-' || c == ':' || c == '_';
  });
  return sound ? lower(name) : std::string();
}

}  // namespace zoneproof::server

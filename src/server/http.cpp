#include "server/http.hpp"

#include <algorithm>
#include <cctype>

namespace zoneproof::server {

namespace {

bool same_name(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

}  // namespace

std::string_view Request::header(std::string_view name) const {
  const auto found =
      std::find_if(headers.begin(), headers.end(), [&](const Header& one) { return same_name(one.name, name); });
  return found == headers.end() ? std::string_view() : std::string_view(found->value);
}

std::size_t Request::count(std::string_view name) const {
  return static_cast<std::size_t>(
      std::count_if(headers.begin(), headers.end(), [&](const Header& one) { return same_name(one.name, name); }));
}

void Response::own(std::string text) {
  const auto kept = std::make_shared<const std::string>(std::move(text));
  body = *kept;
  keeps = kept;
}

Response& Response::with(std::string name, std::string value) & {
  headers.push_back({std::move(name), std::move(value)});
  return *this;
}

Response&& Response::with(std::string name, std::string value) && {
  headers.push_back({std::move(name), std::move(value)});
  return std::move(*this);
}

}  // namespace zoneproof::server

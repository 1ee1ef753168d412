#include "handover/unprintable.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/json_pointer.hpp"
#include "base/utf8.hpp"
#include "messages/handover.hpp"
#include "results/evidence_words.hpp"
#include "results/field_words.hpp"
#include "site/document.hpp"

namespace zoneproof::handover {

namespace {

constexpr std::size_t kMostPlaces = 12;  ///< a site all of whose names are so says it in one line as well

bool is_ascii(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

template <class All, class One>
bool has(const All& all, const One& one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

void add_once(std::vector<std::string>& all, const std::vector<std::string>& more) {
  for (const std::string& one : more)
    if (!has(all, one)) all.push_back(one);
}

void look_through(const drawing::Ruler& ruler, const nlohmann::ordered_json& at, const std::string& pointer,
                  std::vector<Unprintable>& found) {
  if (at.is_string()) {
    auto letters = letters_lacking(ruler, at.get_ref<const std::string&>());
    if (!letters.empty()) found.push_back({pointer, std::move(letters)});
  } else if (at.is_structured()) {
    for (const auto& [key, inner] : at.items()) look_through(ruler, inner, pointer_child(pointer, key), found);
  }
}

std::string joined(const std::vector<std::string>& letters) {
  std::string out;
  for (const std::string& letter : letters) out += letter;
  return out;
}

/// "U+524D U+53F0".
std::string numbers_of(const std::vector<std::string>& letters) {
  std::string out;
  for (const std::string& letter : letters)
    for (std::size_t at = 0; at < letter.size();) {
      const Utf8Step step = utf8_at(letter, at);
      out += fmt::format("{}U+{:04X}", out.empty() ? "" : " ", static_cast<unsigned>(step.code_point));
      at += step.size;
    }
  return out;
}

void shorten(std::vector<std::string>& places) {
  if (places.size() <= kMostPlaces) return;
  const auto more = static_cast<long long>(places.size() - kMostPlaces);
  places.resize(kMostPlaces);
  places.push_back(text(say::letters_more(more)));
}

}  // namespace

std::vector<std::string> letters_lacking(const drawing::Ruler& ruler, std::string_view text) {
  if (is_ascii(text)) return {};
  constexpr double any_size = 1.0;
  const std::string shown = printable(text, text.size());
  std::vector<std::string> letters;
  std::size_t from = 0;
  for (const std::size_t to : ruler.letter_ends(shown)) {
    const std::string letter = shown.substr(from, to - from);
    from = to;
    if (!is_ascii(letter) && !has(letters, letter) && ruler.measure(letter, {}, any_size).missing > 0)
      letters.push_back(letter);
  }
  return letters;
}

std::vector<Unprintable> unprintable_in(const drawing::Ruler& ruler, const site::Site& site) {
  std::vector<Unprintable> found;
  look_through(ruler, site::write_document(site::site_format(), &site), "", found);
  return found;
}

std::vector<std::string> letters_lacking_on(const drawing::Ruler& ruler, const std::vector<drawing::Sheet>& sheets) {
  std::vector<std::string> letters;
  for (const drawing::Sheet& sheet : sheets)
    drawing::each(
        sheet.content, [](const drawing::Shape&) {},
        [&](const drawing::TextLine& line) {
          if (line.extent.missing > 0) add_once(letters, letters_lacking(ruler, line.content));
        });
  return letters;
}

std::optional<Message> letters_notice(const site::Site& site, const std::vector<Unprintable>& all,
                                      const std::vector<std::string>& drawn) {
  std::vector<std::string> places, told;
  for (const Unprintable& one : all) {
    if (std::none_of(one.letters.begin(), one.letters.end(), [&](const auto& letter) { return has(drawn, letter); }))
      continue;
    places.push_back(text(say::letters_at(joined(one.letters), results::place_words(site, one.pointer))));
    add_once(told, one.letters);
  }
  std::vector<std::string> others;
  for (const std::string& letter : drawn)
    if (!has(told, letter)) add_once(others, {letter});
  if (!others.empty()) places.push_back(joined(others));
  if (places.empty()) return std::nullopt;
  shorten(places);
  return say::letters_without_font(places);
}

std::optional<Message> letters_on_paper(const std::vector<Unprintable>& all) {
  std::vector<std::string> places;
  for (const Unprintable& one : all) {
    const auto place = results::place_of(site::record_of<site::Site>(), one.pointer);
    const std::string id = place ? place->owner : std::string(), key = one.pointer.substr(one.pointer.rfind('/') + 1);
    places.push_back(text(id.empty() ? say::letters_at(numbers_of(one.letters), text(say::letters_in_site(key)))
                                     : say::letters_at(numbers_of(one.letters), text(say::letters_in(key, id)))));
  }
  if (places.empty()) return std::nullopt;
  shorten(places);
  return say::letters_are_boxes(places);
}

}  // namespace zoneproof::handover

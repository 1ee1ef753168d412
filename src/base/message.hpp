#pragma once
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

/// Everything the program says to a person is a Message of the catalogue (data/messages/): a stable code, typed
/// arguments and a place. Code builds messages through the generated functions of `messages/<folder>.hpp`
/// (namespace `zoneproof::say`), so a wrong argument does not compile. Only `text()` makes words of one.
namespace zoneproof {

/// A label is a word or phrase that stands inside tables and other messages; it is no finding of its own.
enum class Severity { label, note, warning, error };

/// A number with its unit, shown with as many digits as `significant` says (3 by default).
/// `unit` is one of the symbols of the key suffixes ("V", "ohm", "A", "h", ...) or empty; `shown()` says how it
/// appears.
struct Measure {
  double value = 0.0;
  std::string unit;
  int significant = 3;
};

using Argument = std::variant<std::string, long long, Measure, std::vector<std::string>>;

/// Where in the user's input a message points. `pointer` is an RFC 6901 JSON pointer; line and column count from 1,
/// 0 where unknown (`place_in_text()` of base/json_place.hpp fills them in). `at_key` means the member's name and
/// not its value: right for a key that should not be there.
struct Place {
  std::string file;
  std::string pointer;
  int line = 0;
  int column = 0;
  bool at_key = false;
};

struct Message {
  std::string code;
  std::vector<std::pair<std::string, Argument>> arguments;
  Place place;

  Message at(Place where) && {
    place = std::move(where);
    return std::move(*this);
  }
};

/// Properties that a code has in the catalogue.
struct MessageKind {
  std::string_view code;
  Severity severity;
  int exit_status;
  int http_status;
  std::string_view says;
  std::string_view remedy;
};

/// The catalogue's entry for `code`; throws std::logic_error for a code that is not in it (a programming fault).
const MessageKind& kind_of(std::string_view code);

/// The whole catalogue, sorted by code.
const std::vector<MessageKind>& catalogue();

/// The sentence of a message in the spoken language (base/language.hpp), text of the user in it made `printable()`.
std::string text(const Message& message);
/// The remedy sentence, empty where the catalogue has none.
std::string remedy(const Message& message);
/// "site.json:12:5: /zones/z1/number: sentence Remedy." for a terminal.
std::string full_text(const Message& message);

/// A number and unit as people read it: "4.62 V", "5.6 kohm", "120 mA", "7.3 h", "25 °C", "1.5 mm²", "20 %".
/// Rounded to the significant digits first, then prefixed: "ohm" as kohm or Mohm from 1000 on, "A" as mA below 1
/// and uA below 0.001, "V" as mV below 0.1, bits, bytes and watt-hours with the next prefix from 1000 on (powers of
/// ten, never of 1024). NaN is shown as "?". The decimal sign is that of the spoken language.
std::string shown(const Measure& measure);

/// A time in the largest unit in which people still say it: "120 s", "15 min", "25 h", "32 days". Seconds up to five
/// minutes stay seconds: somebody may stand there with a watch.
Measure lasting(double seconds, int significant = 3);

bool any_error(const std::vector<Message>& messages);

}  // namespace zoneproof

#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "results/questions.hpp"

/// Questions as JSON text: {"command": "levels", "zone": "6", "yield": true}. "command" is a command's name, the other
/// keys its options without the dashes and with _ between words: texts, true or false, or lists of texts. All are
/// optional.
///   check    -                              prove    links [], zone
///   levels   zone, condition, yield         supply   -
///   faults   zone, costs                    netlist  -
///   sight    zone, camera, cures            remedies zone, costs
///   network  -
///   clip     zone                           storm    runs, seed, log
///   terminal part, open [], over [], short [], meter, error, burden, current_error, eol []
///   parts    kind, id                       rules    book
///   schema   format, field
namespace zoneproof::results {

/// Nothing where the text is no question; every reason goes to `messages`, with its place. Cost: linear in the text.
std::optional<Question> read_question(std::string_view text, std::vector<Message>& messages);

/// The words that "command" may be, in the order above.
const std::vector<std::string>& commands_asked();

}  // namespace zoneproof::results

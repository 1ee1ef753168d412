#include "results/question_text.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "messages/results.hpp"
#include "results/ask.hpp"
#include "site/findings.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

/// Reads the members of one question from an object; whatever is not read is a key that the question does not have.
class Keys {
 public:
  Keys(const Json& object, std::string command, site::Findings& findings)
      : object_(object), command_(std::move(command)), findings_(findings) {}

  void take(const char* key, std::string& out) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (value->is_string()) {
      out = value->get<std::string>();
    } else {
      wrong(say::question_text_wanted(key), key);
    }
  }
  void take(const char* key, bool& out) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (value->is_boolean()) {
      out = value->get<bool>();
    } else {
      wrong(say::question_flag_wanted(key), key);
    }
  }
  void take(const char* key, std::vector<std::string>& out) {
    const Json* value = find(key);
    if (value == nullptr) return;
    const auto is_text = [](const Json& one) { return one.is_string(); };
    if (value->is_array() && std::all_of(value->begin(), value->end(), is_text)) {
      out = value->get<std::vector<std::string>>();
    } else {
      wrong(say::question_texts_wanted(key), key);
    }
  }

  /// Tells the keys that nobody took.
  void done() {
    for (const auto& [key, value] : object_.items()) {
      if (key == "command" || std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
      findings_.add(say::question_key_unknown(key, command_, known_), pointer_child("", key), true);
    }
  }

 private:
  const Json* find(const char* key) {
    known_.emplace_back(key);
    const auto found = object_.find(key);
    return found == object_.end() ? nullptr : &*found;
  }
  void wrong(Message message, const char* key) { findings_.add(std::move(message), pointer_child("", key)); }

  const Json& object_;
  std::string command_;
  site::Findings& findings_;
  std::vector<std::string> known_;
};

// Keys in the order of the header's table.
void read(CheckQuestion&, Keys&) {}
void read(ProveQuestion& question, Keys& keys) {
  keys.take("links", question.links);
  keys.take("zone", question.zone);
}
void read(LevelsQuestion& question, Keys& keys) {
  keys.take("zone", question.zone);
  keys.take("condition", question.condition);
  keys.take("yield", question.yield);
}
void read(SupplyQuestion&, Keys&) {}
void read(FaultsQuestion& question, Keys& keys) {
  keys.take("zone", question.zone);
  keys.take("costs", question.costs);
}
void read(SightQuestion& question, Keys& keys) {
  keys.take("zone", question.zone);
  keys.take("camera", question.camera);
  keys.take("cures", question.cures);
  keys.take("uses", question.uses);
}
void read(NetworkQuestion&, Keys&) {}
void read(ClipQuestion& question, Keys& keys) { keys.take("zone", question.zone); }
void read(StormQuestion& question, Keys& keys) {
  keys.take("runs", question.runs);
  keys.take("seed", question.seed);
  keys.take("log", question.log);
}
void read(RemediesQuestion& question, Keys& keys) {
  keys.take("zone", question.zone);
  keys.take("costs", question.costs);
}
void read(TerminalQuestion& question, Keys& keys) {
  keys.take("part", question.part);
  keys.take("open", question.open);
  keys.take("over", question.over);
  keys.take("short", question.shorted);
  keys.take("meter", question.meter);
  keys.take("error", question.error);
  keys.take("burden", question.burden);
  keys.take("current_error", question.current_error);
  keys.take("eol", question.eol);
}
void read(NetlistQuestion&, Keys&) {}
void read(PartsQuestion& question, Keys& keys) {
  keys.take("kind", question.kind);
  keys.take("id", question.id);
}
void read(RulesQuestion& question, Keys& keys) { keys.take("book", question.book); }
void read(SchemaQuestion& question, Keys& keys) {
  keys.take("format", question.format);
  keys.take("field", question.field);
}

/// The words, in the order of Question's alternatives.
constexpr const char* kWords[] = {"check", "prove",    "levels",   "supply",  "faults", "sight", "network", "clip",
                                  "storm", "remedies", "terminal", "netlist", "parts",  "rules", "schema"};
static_assert(std::size(kWords) == std::variant_size_v<Question>);

template <std::size_t... Which>
std::optional<Question> empty_question(const std::string& word, std::index_sequence<Which...>) {
  std::optional<Question> question;
  ((word == kWords[Which] ? void(question.emplace(std::in_place_index<Which>)) : void()), ...);
  return question;
}

std::optional<Question> question_of(const Json& json, site::Findings& findings) {
  if (!json.is_object()) {
    findings.add(say::question_object_wanted(), "");
    return std::nullopt;
  }
  const auto command = json.find("command");
  if (command == json.end() || !command->is_string()) {
    findings.add(say::question_command_missing(commands_asked()), command == json.end() ? "" : "/command");
    return std::nullopt;
  }
  const auto word = command->get<std::string>();
  std::optional<Question> question = empty_question(word, std::make_index_sequence<std::variant_size_v<Question>>());
  if (!question) {
    findings.add(say::question_command_unknown(word, commands_asked()), "/command");
    return std::nullopt;
  }
  Keys keys(json, word, findings);
  std::visit([&](auto& one) { read(one, keys); }, *question);
  keys.done();
  return question;
}

}  // namespace

const std::vector<std::string>& commands_asked() {
  static const std::vector<std::string> words(std::begin(kWords), std::end(kWords));
  return words;
}

std::string command_of(const Question& question) { return kWords[question.index()]; }

std::optional<Question> read_question(std::string_view text, std::vector<Message>& messages) {
  std::vector<Message> faults;
  const Json json = parse_json(text, "question", faults);
  std::optional<Question> question;
  if (!any_error(faults)) {
    site::Findings findings("question");
    question = question_of(json, findings);
    for (Message& message : findings.in_text(text)) faults.push_back(std::move(message));
  }
  if (any_error(faults)) question.reset();
  messages.insert(messages.end(), faults.begin(), faults.end());
  return question;
}

}  // namespace zoneproof::results

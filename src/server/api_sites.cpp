// Sites, their edits and their history.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/json_place.hpp"
#include "base/json_text.hpp"
#include "messages/book.hpp"
#include "messages/server.hpp"
#include "results/changes.hpp"
#include "results/results.hpp"
#include "server/answers.hpp"
#include "server/body.hpp"
#include "server/numbers.hpp"
#include "server/recorded.hpp"
#include "server/secrets.hpp"
#include "server/service.hpp"
#include "site/draft.hpp"
#include "site/file.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

constexpr std::string_view kSiteEnding = ".site.json";
constexpr long long kMostRevisions = 100;  // in one answer

Json json_of(const book::SiteEntry& entry) {
  return {{"id", entry.id},         {"name", entry.name}, {"revision", entry.revision},
          {"sha256", entry.sha256}, {"who", entry.who},   {"when", entry.when}};
}

/// Without patch and undo, which are long.
Json json_of(const book::Revision& revision) {
  return {{"number", revision.number}, {"sha256", revision.sha256}, {"edit", revision.edit},
          {"who", revision.who},       {"when", revision.when},     {"why", revision.why}};
}

Json patch_json(const std::string& patch) { return patch.empty() ? Json(nullptr) : Json::parse(patch); }

Json revision_of(long long number, const std::string& sha256) { return {{"number", number}, {"sha256", sha256}}; }

std::string demo_id(const BinaryFile& file) {
  return std::string(file.path.substr(0, file.path.size() - kSiteEnding.size()));
}

Json demos() {
  Json list = Json::array();
  for (const BinaryFile& file : demos_in_program())
    list.push_back({{"id", demo_id(file)}, {"name", Json::parse(file.bytes).value("name", "")}});
  return list;
}

/// A site that a request brings, in one of its four ways.
struct Brought {
  std::optional<site::Site> site;
  std::vector<Message> messages;
};

Brought from_text(std::string_view text, const std::string& name) {
  site::ReadResult read = site::read_site(text, name);
  return {std::move(read.site), std::move(read.messages)};
}

Brought from_demo(const std::string& id) {
  std::vector<std::string> known;
  for (const BinaryFile& file : demos_in_program()) {
    if (demo_id(file) == id) return from_text(file.bytes, std::string(file.path));
    known.push_back(demo_id(file));
  }
  return {std::nullopt, {say::server_no_such_demo(id, known)}};
}

Brought from_table(const std::string& table, Body& body) {
  site::DraftRequest wanted;
  wanted.name = body.text_or("name", "");
  wanted.panel = body.text_or("panel", "");
  wanted.zone_terminal = body.text_or("zone_terminal", "");
  wanted.unit = body.text_or("unit", "");
  wanted.units = body.count("units");
  wanted.supply = body.text_or("supply", "");
  wanted.battery = body.text_or("battery", "");
  wanted.rulebook = body.text_or("rulebook", "");
  wanted.grade = body.count("grade");
  wanted.origin = body.text_or("origin", "");
  site::DraftResult drafted = site::draft_site(table, "table", wanted);
  return {std::move(drafted.site), std::move(drafted.messages)};
}

Brought empty_site(const Json& wanted) {
  Brought made;
  Body about(wanted.dump());
  site::Site site;
  site.name = about.text_or("name", "");
  site.revision = 1;
  made.messages = about.problems();
  if (!made.messages.empty()) return made;
  return from_text(site::write_site(site), "site");  // a name may be too long, say
}

Brought brought_by(Body& body) {
  constexpr const char* kWays[] = {"text", "demo", "table", "empty"};
  if (std::count_if(std::begin(kWays), std::end(kWays), [&](const char* way) { return body.has(way); }) != 1)
    return {std::nullopt, {say::server_one_way_wanted({std::begin(kWays), std::end(kWays)})}};
  if (body.has("text")) return from_text(body.text("text"), body.text_or("name", "site"));
  if (body.has("demo")) return from_demo(body.text("demo"));
  if (body.has("table")) return from_table(body.text("table"), body);
  return empty_site(body.object("empty"));
}

}  // namespace

Service::Answer Service::sites(Call&) {
  const auto entries = book_.sites();
  if (!entries.answer) return problem_response(entries.problems);
  Json list = Json::array();
  for (const book::SiteEntry& entry : *entries.answer) list.push_back(json_of(entry));
  return json_response({{"sites", std::move(list)}, {"demos", demos()}});
}

Service::Answer Service::make_site(Call& call) {
  Body body(call.request.body);
  book::NewSite made;
  made.id = body.text_or("id", "");
  made.edit = body.text_or("edit", random_name());
  made.why = body.text_or("why", "");
  made.who = call.visitor.who();
  made.when = time_text();
  Brought brought = brought_by(body);
  if (const auto problems = body.problems(); !problems.empty()) return problem_response(problems);
  if (!brought.site) return problem_response(brought.messages, 422);
  const auto added = book_.add_site(made, *brought.site);
  if (!added.answer) return problem_response(added.problems);
  const book::SiteEntry& entry = *added.answer;
  Json json = {{"id", entry.id},
               {"name", entry.name},
               {"revision", revision_of(entry.revision, entry.sha256)},
               {"notes", results::json_of(brought.messages)}};
  return json_response(json, 201).with("Location", "/api/sites/" + entry.id);
}

Service::Answer Service::site(Call& call) {
  const auto entry = book_.site(call.captured.at(0));
  if (!entry.answer) return problem_response(entry.problems);
  const std::string tag = '"' + entry.answer->sha256 + '"';
  if (names_tag(call.request.header("If-None-Match"), tag)) return empty_response(304).with("ETag", tag);
  auto text = book_.text(entry.answer->id, entry.answer->revision);
  if (!text.answer) return problem_response(text.problems);
  Response response;
  response.with("Content-Type", "application/json; charset=utf-8").with("Cache-Control", "no-cache").with("ETag", tag);
  response.own(std::move(*text.answer));
  return response;
}

namespace {

Response kept_response(const book::Revision& revision, bool repeated, const std::vector<Message>& notes) {
  return json_response({{"revision", revision_of(revision.number, revision.sha256)},
                        {"edit", revision.edit},
                        {"undo", patch_json(revision.undo)},
                        {"repeated", repeated},
                        {"notes", results::json_of(notes)}});
}

/// The edit was made on a state that is not the last: what came after it, for whoever joins them.
Response behind_response(const book::SiteEntry& entry, const std::vector<book::Revision>& since) {
  Json list = Json::array();
  for (const book::Revision& one : since) {
    Json json = json_of(one);
    json["patch"] = patch_json(one.patch);
    list.push_back(std::move(json));
  }
  return json_response({{"problems", results::json_of(std::vector<Message>{say::server_edit_behind(entry.revision)})},
                        {"revision", revision_of(entry.revision, entry.sha256)},
                        {"since", std::move(list)}},
                       409);
}

/// The revision that a patch says it is made for; nothing where it says none (apply tells that).
std::optional<long long> base_of(const Json& patch) {
  const auto base = patch.find("base_revision");
  if (base == patch.end() || !base->is_object()) return std::nullopt;
  const auto number = base->find("number");
  if (number == base->end() || !number->is_number_integer()) return std::nullopt;
  return number->get<long long>();
}

/// Whether a kept patch does what another one asks for, on whatever revision: whoever repeats an edit may know of a
/// later one by then.
bool same_operations(const std::string& kept, const Json& asked) {
  const Json before = Json::parse(kept, nullptr, false);
  const auto mine = before.find("operations"), other = asked.find("operations");
  return mine != before.end() && other != asked.end() && *mine == *other;
}

}  // namespace

Service::Answer Service::edit(Call& call) {
  Body body(call.request.body);
  book::Edit edit;
  edit.site = call.captured.at(0);
  edit.id = body.text("edit");
  edit.why = body.text_or("why", "");
  const Json patch = body.object("patch");
  if (const auto problems = body.problems(); !problems.empty()) return problem_response(problems);
  if (call.visitor.role == book::Role::technician)
    if (const auto pointer = first_not_recorded(patch.value("operations", Json::array())))
      return problem_response(say::server_only_recorded(*pointer));

  const auto entry = book_.site(edit.site);
  if (!entry.answer) return problem_response(entry.problems);
  const auto turn = open_sites_.turn_of(edit.site);
  const std::lock_guard in_turn(*turn);
  const auto before = book_.edit_before(edit.site, edit.id);
  if (!before.answer) return problem_response(before.problems);
  if (*before.answer && !same_operations((*before.answer)->patch, patch))
    return problem_response(say::book_edit_id_used(edit.id));
  if (*before.answer) return kept_response(**before.answer, true, {});
  const auto open = open_sites_.open(edit.site);
  if (!open.answer) return problem_response(open.problems);
  const long long revision = open.answer->entry.revision;
  edit.base = base_of(patch).value_or(revision);
  if (edit.base < revision) {
    const auto since = book_.revisions_since(edit.site, edit.base);
    if (!since.answer) return problem_response(since.problems);
    return behind_response(open.answer->entry, *since.answer);
  }
  return keep_edit(call, *open.answer, std::move(edit), write_json(patch));
}

/// Holding the site's turn.
Response Service::keep_edit(const Call& call, const OpenSite& open, book::Edit edit, std::string patch) {
  browser::Session changed = *open.session;
  const site::PatchResult result = changed.apply(patch);
  if (!result.site) return problem_response(result.messages, 422);
  edit.patch = std::move(patch);
  edit.undo = result.undo;
  edit.who = call.visitor.who();
  edit.when = time_text();
  const auto appended = book_.append(edit, *result.site);
  if (!appended.answer) return problem_response(appended.problems);
  const book::Appended& fate = *appended.answer;
  if (fate.fate == book::Appended::Fate::repeated) return kept_response(fate.revision, true, {});
  if (fate.fate == book::Appended::Fate::conflict) {
    const auto now = book_.site(edit.site);
    return now.answer ? behind_response(*now.answer, fate.since) : problem_response(now.problems);
  }
  changed.written_as(site::write_site(*result.site));
  OpenSite after = open;
  after.entry.name = result.site->name;
  after.entry.revision = fate.revision.number;
  after.entry.sha256 = fate.revision.sha256;
  after.entry.who = edit.who;
  after.entry.when = edit.when;
  after.session = std::make_shared<const browser::Session>(std::move(changed));
  open_sites_.replace(after);
  live_.tell(edit.site, "revision", json_of(fate.revision));
  return kept_response(fate.revision, false, after.session->notes());
}

Service::Answer Service::revisions(Call& call) {
  std::vector<Message> problems;
  only_asked(call.target, {"before", "most"}, problems);
  std::optional<long long> before;
  if (const std::string asked = call.target.asked("before"); !asked.empty())
    before = number_of(asked, "before", problems);
  const long long most = number_asked(call.target, "most", kMostRevisions, problems);
  if (most < 1 || most > kMostRevisions)
    problems.push_back(say::server_number_outside("most", most, 1, kMostRevisions));
  if (!problems.empty()) return problem_response(problems);
  const auto wanted = static_cast<std::size_t>(most);
  const auto found = book_.revisions(call.captured.at(0), before, wanted);
  if (!found.answer) return problem_response(found.problems);
  Json list = Json::array();
  for (const book::Revision& one : *found.answer) list.push_back(json_of(one));
  const bool more = found.answer->size() == wanted && found.answer->back().patch.size() > 0;
  return json_response({{"revisions", std::move(list)}, {"more", more}});
}

Service::Answer Service::revision(Call& call) {
  const std::string& id = call.captured.at(0);
  std::vector<Message> problems;
  const long long number = number_of(call.captured.at(1), "number", problems);
  if (!problems.empty()) return problem_response(problems);
  const auto found = book_.revision(id, number);
  if (!found.answer) return problem_response(found.problems);
  const auto text = book_.text(id, number);
  if (!text.answer) return problem_response(text.problems);
  Json json = json_of(*found.answer);
  json["patch"] = patch_json(found.answer->patch);
  json["undo"] = patch_json(found.answer->undo);
  json["changes"] = nullptr;
  json["site"] = Json::parse(*text.answer);
  if (found.answer->patch.empty()) return json_response(json);  // the first
  const auto text_before = book_.text(id, number - 1);
  if (!text_before.answer) return problem_response(text_before.problems);
  const auto before = site::read_site(*text_before.answer, "before"), after = site::read_site(*text.answer, "after");
  if (before.site && after.site)
    json["changes"] = results::json_of(results::changes_between(*before.site, *after.site));
  return json_response(json);
}

}  // namespace zoneproof::server

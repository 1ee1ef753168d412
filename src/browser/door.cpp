#include "browser/door.hpp"

#include <exception>
#include <nlohmann/json.hpp>

#include "messages/browser.hpp"
#include "messages/results.hpp"
#include "results/results.hpp"
#include "site/file.hpp"

namespace zoneproof::browser {

using Json = nlohmann::ordered_json;

namespace {

/// Where not even a message can be made: no memory is left.
constexpr const char* kNoWords = "";

std::string own_fault(const char* command, const char* what) noexcept {
  try {
    return results::refusal(command, {say::own_fault(what)}).text;
  } catch (...) {
    return kNoWords;
  }
}

Json revision_of(const site::Site& site) { return {{"number", site.revision}, {"sha256", site::site_hash(site)}}; }

std::string told(const char* command, const site::Site& site, Json results) {
  return results::results_text(command, site::site_hash(site), std::move(results));
}

}  // namespace

template <class Answer>
std::string Door::answered(const char* command, Answer answer) noexcept {
  try {
    return answer();
  } catch (const std::exception& fault) {
    return own_fault(command, fault.what());
  } catch (...) {
    return own_fault(command, "");
  }
}

template <class Answer>
std::string Door::of_session(const char* command, long long session, Answer answer) noexcept {
  return answered(command, [&] {
    const auto found = sessions_.find(session);
    if (found == sessions_.end()) return results::refusal(command, {say::session_not_open(session)}).text;
    return answer(found->second);
  });
}

std::string Door::open(std::string_view site, const std::string& name, const OwnParts* parts) noexcept {
  return answered("open", [&] {
    site::ReadResult read = parts == nullptr ? site::read_site(site, name)
                                             : site::read_site_with_parts(site, name, parts->text, parts->name);
    if (!read.site) return results::refusal("open", read.messages).text;
    const long long number = last_ + 1;
    Json results = {
        {"session", number}, {"revision", revision_of(*read.site)}, {"notes", results::json_of(read.messages)}};
    std::string text = told("open", *read.site, std::move(results));
    sessions_.emplace(number, Session(*std::move(read.site), name, std::move(read.messages)));
    last_ = number;
    return text;
  });
}

std::string Door::apply(long long session, std::string_view patch) noexcept {
  return of_session("apply", session, [&](Session& open) {
    Session changed = open;  // what is told below is made before anything changes
    const site::PatchResult result = changed.apply(patch);
    if (!result.site) return results::refusal("apply", result.messages).text;
    Json results = {{"revision", revision_of(changed.site())},
                    {"undo", Json::parse(result.undo)},
                    {"notes", results::json_of(result.messages)}};
    std::string text = told("apply", changed.site(), std::move(results));
    open = std::move(changed);
    return text;
  });
}

std::string Door::ask(long long session, std::string_view question) noexcept {
  return of_session("ask", session, [&](const Session& open) { return open.ask(question).text; });
}

std::string Door::site(long long session) noexcept {
  return of_session("site", session, [&](const Session& open) {
    return told("site", open.site(), {{"name", open.name()}, {"text", site::write_site(open.site())}});
  });
}

std::string Door::close(long long session) noexcept {
  return of_session("close", session, [&](const Session&) {
    std::string text = results::results_text("close", std::nullopt, Json::object());
    sessions_.erase(session);
    return text;
  });
}

}  // namespace zoneproof::browser

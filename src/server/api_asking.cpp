// What is computed of a site: answers, trials, drawings.
#include <nlohmann/json.hpp>

#include "base/json_text.hpp"
#include "drawing/fonts.hpp"
#include "drawing/svg.hpp"
#include "handover/drawing_of_site.hpp"
#include "messages/server.hpp"
#include "results/results.hpp"
#include "server/answers.hpp"
#include "server/body.hpp"
#include "server/numbers.hpp"
#include "server/service.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

/// A drawing that is opened by itself may have its own style and nothing else.
constexpr const char* kDrawingPolicy = "default-src 'none'; style-src 'unsafe-inline'; sandbox; frame-ancestors 'none'";
constexpr int kRefused = 2;  // exit status of a question that was refused

/// Leaves work whose answer nobody waits for.
results::Progress while_wanted(const Call& call) {
  return [reply = call.reply](const std::string&) {
    if (reply->gone()) throw Stopped();
  };
}

/// What the command prints with --json, byte for byte.
Response answer_of(const results::Reply& reply) {
  if (reply.status != kRefused) return json_text_response(reply.text);
  return json_text_response(reply.text, 422);
}

}  // namespace

Service::Answer Service::ask(Call& call) {
  const auto open = open_sites_.open(call.captured.at(0));
  if (!open.answer) return problem_response(open.problems);
  return answer_of(open.answer->session->ask(call.request.body, while_wanted(call)));
}

Service::Answer Service::trial(Call& call) {
  Body body(call.request.body);
  const Json operations = body.list("operations"), question = body.object("question");
  if (const auto problems = body.problems(); !problems.empty()) return problem_response(problems);
  const auto open = open_sites_.open(call.captured.at(0));
  if (!open.answer) return problem_response(open.problems);
  const Json patch = {
      {"format", "zoneproof-patch"},
      {"version", 1},
      {"base_revision", {{"number", open.answer->entry.revision}, {"sha256", open.answer->entry.sha256}}},
      {"operations", operations}};
  browser::Session tried = *open.answer->session;
  const site::PatchResult result = tried.apply(write_json(patch));
  if (!result.site) return problem_response(result.messages, 422);
  return answer_of(tried.ask(question.dump(), while_wanted(call)));
}

Service::Answer Service::drawing(Call& call) {
  std::vector<Message> problems;
  only_asked(call.target, {"of", "ink", "volts", "page", "language"}, problems);
  const handover::DrawingAsked asked = {call.captured.at(1), call.target.asked("of"), call.target.asked("ink"),
                                        call.target.asked("volts")};
  const long long page = number_asked(call.target, "page", 1, problems);
  for (Message& problem : handover::drawing_problems(asked)) problems.push_back(std::move(problem));
  const std::string language = word_asked(call.target, "language", languages(), problems);
  if (!problems.empty()) return problem_response(problems);
  const SpokenLanguage spoken(language_called(language).value_or(call.language));
  const auto open = open_sites_.open(call.captured.at(0));
  if (!open.answer) return problem_response(open.problems);

  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), problems);
  if (!fonts) return problem_response(problems, 500);
  drawing::Document document;
  document.title = open.answer->session->site().name;
  document.created = whole_seconds(open.answer->entry.when);
  handover::DrawingMade made = handover::drawing_of_site(open.answer->session->site(), asked, *fonts);
  if (!made.problems.empty()) return problem_response(made.problems, 422);
  const std::size_t count = made.sheets.size();
  document.sheets = std::move(made.sheets);
  if (page < 1 || page > static_cast<long long>(count))
    return problem_response(say::server_no_such_page(page, static_cast<long long>(count)));
  Response response = text_response(drawing::svg(document, static_cast<std::size_t>(page - 1),
                                                 {handover::palette_of(asked.ink), asked.ink.empty(), {}}),
                                    "image/svg+xml");
  response.with("X-Sheets", std::to_string(count)).with("Content-Security-Policy", kDrawingPolicy);
  return response;
}

}  // namespace zoneproof::server

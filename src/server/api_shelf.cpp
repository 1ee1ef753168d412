// What belongs to no site: the shelf, files, how the program is.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "messages/server.hpp"
#include "results/ask.hpp"
#include "results/question_text.hpp"
#include "results/results.hpp"
#include "server/answers.hpp"
#include "server/numbers.hpp"
#include "server/service.hpp"
#include "server/trust_page.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

/// A file as it was kept is shown and never run.
constexpr const char* kFilePolicy = "default-src 'none'; sandbox; frame-ancestors 'none'";

struct Asked {
  std::string question;
  std::vector<Message> problems;
};

/// What a question's members are, as query.
Asked asked_of(const Target& target, const char* command, const std::vector<std::string>& members) {
  Asked asked;
  only_asked(target, members, asked.problems);
  Json question = {{"command", command}};
  for (const std::string& member : members)
    if (const std::string value = target.asked(member); !value.empty()) question[member] = value;
  asked.question = question.dump();
  return asked;
}

/// The answer to a question that needs no site.
Response answered(const Asked& asked) {
  if (!asked.problems.empty()) return problem_response(asked.problems);
  std::vector<Message> problems;
  const auto question = results::read_question(asked.question, problems);
  if (!question) return problem_response(problems, 422);
  const results::Reply reply = results::ask(nullptr, {}, *question);
  return json_text_response(reply.text, reply.status == 2 ? 422 : 200);
}

struct PictureKind {
  std::string_view type, begin;
  std::size_t at = 0;
};
using namespace std::string_view_literals;
constexpr PictureKind kPictures[] = {
    {"image/png", "\x89PNG\r\n\x1a\n"sv, 0},  // PNG (third edition) 5.2
    {"image/jpeg", "\xff\xd8\xff"sv, 0},      // ISO/IEC 10918-1 B.1.1.3: SOI and the next marker
    {"image/webp", "WEBP"sv, 8},              // RFC 9649 2.4
};

const PictureKind* kind_of_picture(std::string_view bytes) {
  const auto found = std::find_if(std::begin(kPictures), std::end(kPictures), [&](const PictureKind& kind) {
    return bytes.size() > kind.at && bytes.substr(kind.at, kind.begin.size()) == kind.begin;
  });
  return found == std::end(kPictures) ? nullptr : found;
}

}  // namespace

Service::Answer Service::schema(Call& call) { return answered(asked_of(call.target, "schema", {"format", "field"})); }
Service::Answer Service::parts(Call& call) { return answered(asked_of(call.target, "parts", {"kind", "id"})); }
Service::Answer Service::rules(Call& call) { return answered(asked_of(call.target, "rules", {"book"})); }

Service::Answer Service::keep_file(Call& call) {
  const std::string& bytes = call.request.body;
  const PictureKind* kind = kind_of_picture(bytes);
  if (kind == nullptr) {
    std::vector<std::string> known;
    for (const PictureKind& one : kPictures) known.emplace_back(one.type);
    return problem_response(say::server_no_picture(known));
  }
  const auto kept = book_.keep_file(bytes, std::string(kind->type), call.visitor.who(), time_text());
  if (!kept.answer) return problem_response(kept.problems);
  const Json json = {{"sha256", kept.answer->sha256}, {"kind", kept.answer->kind}, {"bytes", kept.answer->bytes}};
  return json_response(json, 201).with("Location", "/api/files/" + kept.answer->sha256);
}

Service::Answer Service::file(Call& call) {
  const auto entry = book_.file(call.captured.at(0));
  if (!entry.answer) return problem_response(entry.problems);
  const std::string tag = '"' + entry.answer->sha256 + '"';
  if (names_tag(call.request.header("If-None-Match"), tag)) return empty_response(304).with("ETag", tag);
  auto bytes = book_.file_bytes(entry.answer->sha256);
  if (!bytes.answer) return problem_response(bytes.problems);
  Response response;
  response.with("Content-Type", entry.answer->kind).with("ETag", tag);
  response.with("Cache-Control", "private, max-age=31536000, immutable").with("Content-Security-Policy", kFilePolicy);
  response.own(std::move(*bytes.answer));
  return response;
}

Service::Answer Service::health(Call&) {
  return json_response({{"status", "ok"}, {"version", results::engine_version()}});
}

Service::Answer Service::metrics(Call&) {
  const NetworkCounts counts = network_ == nullptr ? NetworkCounts{} : network_->counts();
  auto number = [](auto value) { return static_cast<double>(value); };
  const std::vector<Metrics::Gauge> gauges = {
      {"zoneproof_connections", "Connections that are open.", number(counts.connections)},
      {"zoneproof_streams", "Open streams of live events.", number(counts.streams)},
      {"zoneproof_connections_accepted_total", "Connections accepted.", number(counts.accepted), true},
      {"zoneproof_connections_turned_away_total", "Connections beyond the limit.", number(counts.turned_away), true},
      {"zoneproof_requests_timed_out_total", "Requests too slow to wait for.", number(counts.timed_out), true},
      {"zoneproof_requests_malformed_total", "Requests that could not be read.", number(counts.malformed), true},
      {"zoneproof_sites_warm", "Sites that are kept open.", number(open_sites_.warm())},
      {"zoneproof_followers", "Pages that follow a site.", number(live_.listeners())},
      {"zoneproof_work_under_way", "Long work that has not ended.", number(works_.under_way())},
      {"zoneproof_waiting_short", "Short requests that wait.", number(short_.waiting())},
      {"zoneproof_waiting_computing", "Questions that wait.", number(long_.waiting())},
  };
  return text_response(metrics_.text(gauges), "text/plain; version=0.0.4; charset=utf-8");
}

Service::Answer Service::authority(Call& call) {
  std::vector<Message> problems;
  only_asked(call.target, {"form"}, problems);
  const bool pem = word_asked(call.target, "form", {"pem", "der"}, problems) == "pem";
  if (!problems.empty()) return problem_response(problems);
  if (settings_.authority_pem.empty()) return problem_response(say::server_no_authority());
  Response response = text_response(pem ? settings_.authority_pem : settings_.authority_der,
                                    pem ? "application/x-pem-file" : "application/x-x509-ca-cert");
  response.with("Content-Disposition",
                std::string("attachment; filename=\"zoneproof-authority.") + (pem ? "pem\"" : "crt\""));
  return response;
}

Service::Answer Service::trust(Call& call) {
  TrustAsked asked;
  asked.der = settings_.authority_der;
  asked.addresses = trust_addresses_;
  asked.secure_address = "https://" + std::string(call.request.header("Host")) + "/";
  asked.from_this_machine = call.request.loopback;
  asked.secure = call.request.secure;
  Response response = text_response(trust_page(asked), "text/html; charset=utf-8");
  return std::move(response)
      .with("Content-Security-Policy", trust_policy())
      .with("Content-Language", std::string(code_of(call.language)));
}

}  // namespace zoneproof::server

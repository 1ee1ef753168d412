// Long work, and what is told while it goes on.
#include <nlohmann/json.hpp>

#include "drawing/fonts.hpp"
#include "handover/handover_file.hpp"
#include "handover/labels.hpp"
#include "handover/prices.hpp"
#include "messages/server.hpp"
#include "server/answers.hpp"
#include "server/body.hpp"
#include "server/numbers.hpp"
#include "server/service.hpp"
#include "server/zip.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

/// What a handover file is made of, beside the site.
struct HandoverAsked {
  handover::FileOptions options;
  std::optional<materials::PriceList> prices;
  std::vector<Message> notes;  ///< of the wishes: rows of the price list that price nothing
};

HandoverAsked read_wishes(Body& body, const book::SiteEntry& entry, const site::Site& site,
                          std::vector<Message>& problems) {
  HandoverAsked asked;
  asked.options.created = whole_seconds(entry.when);
  asked.options.date = entry.when.substr(0, entry.when.find('T'));
  if (const auto paper = handover::paper_called(body.text_or("paper", ""), problems)) asked.options.paper = *paper;
  asked.options.address = body.text_or("address", "");
  if (auto problem = handover::address_problem(asked.options.address)) problems.push_back(std::move(*problem));
  if (const std::string prices = body.text_or("prices", ""); !prices.empty()) {
    handover::PricesRead read = handover::prices_for(site, prices, "prices");
    for (Message& problem : read.problems) problems.push_back(std::move(problem));
    asked.notes = std::move(read.notes);
    asked.prices = std::move(read.list);
  }
  if (const std::string labels = body.text_or("labels", ""); !labels.empty()) {
    paper::StockRead read = paper::read_label_stock(labels, "labels");
    for (Message& message : read.messages) problems.push_back(std::move(message));
    if (read.stock) asked.options.stock = *std::move(read.stock);
  }
  for (Message& problem : body.problems()) problems.push_back(std::move(problem));
  return asked;
}

WorkMade make_handover(const browser::Session& session, const HandoverAsked& asked, const results::Progress& progress) {
  WorkMade made;
  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), made.problems);
  if (!fonts) return made;
  const handover::Findings findings = handover::find(session.site(), asked.prices ? &*asked.prices : nullptr, progress);
  progress(text(say::server_writing_handover()));
  handover::FilesMade files = handover::handover_files(*fonts, findings, asked.options);
  progress("");
  made.problems = asked.notes;
  made.problems.insert(made.problems.end(), files.messages.begin(), files.messages.end());
  std::vector<ZipEntry> entries;
  for (const handover::FileMade& file : files.files) entries.push_back({file.name, file.bytes});
  made.files.push_back({"handover.zip", "application/zip", zip(entries)});
  for (handover::FileMade& file : files.files) {
    if (file.name == "handover.pdf" || file.name == "labels.pdf")
      made.files.push_back({file.name, "application/pdf", std::move(file.bytes)});
    else if (file.name == "tables.xlsx")
      made.files.push_back(
          {file.name, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", std::move(file.bytes)});
  }
  return made;
}

}  // namespace

Service::Answer Service::begin_handover(Call& call) {
  const auto open = open_sites_.open(call.captured.at(0));
  if (!open.answer) return problem_response(open.problems);
  Body body(call.request.body);
  std::vector<Message> problems;
  HandoverAsked asked = read_wishes(body, open.answer->entry, open.answer->session->site(), problems);
  if (any_error(problems)) return problem_response(problems);
  const auto number =
      works_.begin({"handover", open.answer->entry.id, call.visitor.who(), call.language},
                   [session = open.answer->session, asked = std::move(asked)](const results::Progress& progress) {
                     return make_handover(*session, asked, progress);
                   });
  if (!number) return problem_response(say::server_busy());
  return json_response({{"work", *number}}, 202).with("Location", "/api/work/" + std::to_string(*number));
}

Service::Answer Service::work(Call& call) {
  std::vector<Message> problems;
  const long long number = number_of(call.captured.at(0), "number", problems);
  const auto state = works_.state(number);
  if (!state) return problem_response(say::server_no_such_work(call.captured.at(0)));
  return json_response(*state);
}

Service::Answer Service::stop_work(Call& call) {
  std::vector<Message> problems;
  if (!works_.stop(number_of(call.captured.at(0), "number", problems)))
    return problem_response(say::server_no_such_work(call.captured.at(0)));
  return empty_response();
}

Service::Answer Service::work_file(Call& call) {
  std::vector<Message> problems;
  const std::string& name = call.captured.at(1);
  const auto file = works_.file(number_of(call.captured.at(0), "number", problems), name);
  if (!file) return problem_response(say::server_no_such_file(name));
  Response response;
  response.with("Content-Type", file->type).with("Cache-Control", "no-store");
  response.with("Content-Disposition", "attachment; filename=\"" + file->name + "\"");
  response.body = file->bytes;
  response.keeps = file;
  return response;
}

Service::Answer Service::live(Call& call) {
  const auto entry = book_.site(call.captured.at(0));
  if (!entry.answer) return problem_response(entry.problems);
  Response head;
  head.with("Content-Type", "text/event-stream").with("Cache-Control", "no-store");
  add_security_headers(head);
  const Visitor& visitor = call.visitor;
  live_.follow({entry.answer->id, visitor.name, std::string(book::word_of(*visitor.role)), visitor.login},
               {{"revision", {{"number", entry.answer->revision}, {"sha256", entry.answer->sha256}}}}, std::move(head),
               *call.reply);
  return std::nullopt;
}

}  // namespace zoneproof::server

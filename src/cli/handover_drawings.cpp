#include "cli/handover_drawings.hpp"

#include <chrono>
#include <filesystem>
#include <regex>
#include <set>

#include "base/file.hpp"
#include "base/sha256.hpp"
#include "cli/handover_list.hpp"
#include "cli/reading.hpp"
#include "cli/saved_drawings.hpp"
#include "cli/saved_files.hpp"
#include "handover/handover_file.hpp"
#include "handover/labels.hpp"
#include "handover/prices.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

namespace fs = std::filesystem;

/// Errors are problems; what else is to be said of the list is told at once.
std::optional<materials::PriceList> prices_of(const site::Site& site, const HandoverOptions& asked, Screen& screen,
                                              std::vector<Message>& problems) {
  if (asked.prices.empty()) return std::nullopt;
  const auto text = read_file(asked.prices, problems);
  if (!text) return std::nullopt;
  handover::PricesRead read = handover::prices_for(site, *text, asked.prices);
  for (Message& problem : read.problems) problems.push_back(std::move(problem));
  print_notes(read.notes, screen);
  return std::move(read.list);
}

std::optional<paper::LabelStock> stock_of(const HandoverOptions& asked, std::vector<Message>& problems) {
  if (asked.labels.empty()) return std::nullopt;
  const auto text = read_file(asked.labels, problems);
  if (!text) return std::nullopt;
  paper::StockRead read = paper::read_label_stock(*text, asked.labels);
  for (Message& message : read.messages) problems.push_back(std::move(message));
  return std::move(read.stock);
}

/// "tables/chains.csv as chains.changed-1.csv": beside it; told whole where a link has led elsewhere.
std::string kept_words(const std::string& folder, const SetAside& kept) {
  const std::string beside = fs::path(kept.as).filename().string();
  std::error_code failed;
  const bool there = fs::equivalent(fs::path(kept.path).parent_path() / beside, kept.as, failed);
  const std::string name = fs::path(kept.path).lexically_relative(folder).string();
  return text(say::handover_kept_as(name, there ? beside : kept.as));
}

std::vector<std::string> words_of(const std::vector<SetAside>& all, const std::string& folder) {
  std::vector<std::string> words;
  for (const SetAside& kept : all) words.push_back(kept_words(folder, kept));
  return words;
}

void save(std::vector<handover::FileMade> made, const HandoverOptions& asked, Screen& screen, Papers& papers) {
  HandoverList now;
  for (const handover::FileMade& file : made) now.hashes[file.name] = sha256_hex(file.bytes);
  made.push_back({kHandoverList, text_of(now)});
  const auto path_of = [&](const std::string& name) { return (fs::path(asked.output) / name).string(); };
  std::vector<FileToSave> files;
  for (handover::FileMade& file : made) files.push_back({path_of(file.name), std::move(file.bytes)});
  Saving saving(std::move(files), {{asked.site, asked.prices, asked.labels},
                                   asked.replace,
                                   left_behind_in(asked.output),
                                   {told_at_once_on(screen)}});
  // What others do to the folder is done by now, and what is found in it stays so until all of this is over.
  HandoverList before;
  std::set<std::string> changed;
  bool written = saving.ready();
  if (written) before = list_in(asked.output, papers.notes);
  if (written && asked.replace)
    for (const std::string& name : changed_in(asked.output, before, now)) changed.insert(path_of(name));
  written = written && saving.write(changed);
  const std::vector<std::string> kept = words_of(saving.set_aside(), asked.output);
  if (!kept.empty())
    papers.notes.push_back(written ? say::handover_changed_kept(kept) : say::handover_kept_unfinished(kept));
  std::vector<Message>& told = written ? papers.notes : papers.drawn.problems;
  for (const Message& problem : saving.problems()) told.push_back(problem);
  if (!written) return;
  for (const FileToSave& file : saving.files()) papers.drawn.paths.push_back(file.path);
  for (Message& note : remove_what_is_past(asked.output, before, now)) papers.notes.push_back(std::move(note));
}

/// What keeps a site from being proven, as `prove` says it.
std::optional<Message> why_not_proven(const site::Site& site, const handover::Findings& findings) {
  if (handover::all_proven(findings)) return std::nullopt;
  if (site.zones.empty()) return say::nothing_to_prove();
  if (findings.proof.chains.empty()) return say::no_chains();
  const bool chains = std::all_of(findings.proof.chains.begin(), findings.proof.chains.end(),
                                  [](const proof::Chain& chain) { return chain.verdict == chain::Verdict::proven; });
  return chains ? say::handover_site_not_proven() : say::handover_not_all_proven();
}

/// "2026-03-01": a day of the calendar.
bool is_date(const std::string& typed) {
  static const std::regex form(R"((\d{4})-(\d\d)-(\d\d))");
  std::smatch part;
  if (!std::regex_match(typed, part, form)) return false;
  const std::chrono::year_month_day day{std::chrono::year(std::stoi(part[1])),
                                        std::chrono::month(static_cast<unsigned>(std::stoi(part[2]))),
                                        std::chrono::day(static_cast<unsigned>(std::stoi(part[3])))};
  return day.ok();
}

}  // namespace

std::vector<Message> drawing_problems(const HandoverOptions& asked) {
  std::vector<Message> problems;
  if (asked.output.empty()) {
    problems.push_back(say::handover_folder_wanted());
  } else if (auto problem = folder_problem(asked.output)) {
    problems.push_back(std::move(*problem));
    return problems;
  }
  handover::paper_called(asked.paper, problems);
  if (!asked.date.empty() && !is_date(asked.date)) problems.push_back(say::option_date(asked.date));
  if (auto problem = handover::address_problem(asked.address)) problems.push_back(std::move(*problem));
  std::error_code failed;  // what cannot be looked at is told when it is written
  if (!asked.replace && !asked.output.empty() && fs::exists(fs::path(asked.output) / "handover.pdf", failed))
    if (auto problem = output_problem((fs::path(asked.output) / "handover.pdf").string(), {asked.site}, false))
      problems.push_back(std::move(*problem));
  return problems;
}

Papers draw(const site::Site& site, const HandoverOptions& asked, Screen& screen) {
  Papers papers;
  std::vector<Message>& problems = papers.drawn.problems;
  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), problems);
  if (!fonts) return papers;
  const auto prices = prices_of(site, asked, screen, problems);
  const auto stock = stock_of(asked, problems);
  if (!problems.empty()) return papers;
  const handover::Findings findings = handover::find(site, prices ? &*prices : nullptr, progress_on(screen));
  screen.end_progress();
  handover::FileOptions options;
  options.paper = *handover::paper_called(asked.paper, problems);
  options.date = asked.date;
  if (!asked.date.empty()) options.created = asked.date + "T00:00:00Z";
  if (stock) options.stock = *stock;
  options.address = asked.address;
  handover::FilesMade made = handover::handover_files(*fonts, findings, options);
  for (const Message& message : made.messages) print_problem(screen.err(), message);
  save(std::move(made.files), asked, screen, papers);
  papers.all_proven = handover::all_proven(findings);
  if (!problems.empty()) return papers;  // there is no summary that would say it
  if (auto why = why_not_proven(site, findings)) papers.notes.push_back(std::move(*why));
  return papers;
}

}  // namespace zoneproof::cli

#include "results/ask.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "electric/deck.hpp"
#include "results/clip.hpp"
#include "results/faults.hpp"
#include "results/fields.hpp"
#include "results/levels.hpp"
#include "results/network.hpp"
#include "results/proof.hpp"
#include "results/remedies.hpp"
#include "results/results.hpp"
#include "results/shelf_entries.hpp"
#include "results/sight.hpp"
#include "results/storm.hpp"
#include "results/supply.hpp"
#include "results/survey.hpp"
#include "results/terminal.hpp"
#include "site/file.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

/// One way to answer for each kind of question.
class Asking {
 public:
  Asking(const site::Site* site, const std::vector<Message>& notes, std::string command, const Progress& progress,
         Kept* kept)
      : site_(site), notes_(notes), command_(std::move(command)), progress_(progress), kept_(kept) {}

  Reply operator()(const CheckQuestion&) const {
    const Survey found = survey(site(), progress_, kept_);
    return about_site({{"problems", json_of(notes_)}, {"questions", json_of(found.open)}, {"broken", found.broken}},
                      true);
  }
  Reply operator()(const ProveQuestion& question) const {
    const auto told = answer(site(), question, progress_, kept_);
    if (!told.answer) return refusal(command_, told.problems);
    return about_site(json_of(site(), *told.answer), told.answer->all_proven());
  }
  Reply operator()(const LevelsQuestion& question) const {
    const auto told = answer(site(), question, progress_);
    return told.answer ? about_site(json_of(*told.answer), true) : refusal(command_, told.problems);
  }
  Reply operator()(const SupplyQuestion&) const {
    const SupplyAnswer told = supply_answer(site());
    return about_site(json_of(site(), told), told.all_proven());
  }
  Reply operator()(const FaultsQuestion& question) const {
    const auto told = answer(site(), question, progress_);
    if (!told.answer) return refusal(command_, told.problems);
    return about_site(json_of(*told.answer), nothing_open(site(), *told.answer));
  }
  Reply operator()(const SightQuestion& question) const {
    const auto told = answer(site(), question, progress_);
    if (!told.answer) return refusal(command_, told.problems);
    return reply_of(site(), *told.answer);
  }
  Reply operator()(const NetworkQuestion&) const {
    const NetworkAnswer told = network_answer(site());
    return about_site(json_of(told), told.all_proven());
  }
  Reply operator()(const ClipQuestion& question) const {
    const auto told = answer(site(), question, progress_);
    if (!told.answer) return refusal(command_, told.problems);
    return reply_of(site(), *told.answer);
  }
  Reply operator()(const StormQuestion& question) const {
    const auto told = answer(site(), question, progress_);
    if (!told.answer) return refusal(command_, told.problems);
    return about_site(json_of(site(), *told.answer), told.answer->all_bounded());
  }
  Reply operator()(const RemediesQuestion& question) const {
    const auto told = answer(site(), question, progress_);
    if (!told.answer) return refusal(command_, told.problems);
    return about_site(json_of(*told.answer), nothing_open(site(), *told.answer));
  }
  Reply operator()(const TerminalQuestion& question) const {
    const auto told = answer(site_, question);
    if (!told.answer) return refusal(command_, told.problems);
    return written(json_of(*told.answer), site_, told.answer->answer.bounded());
  }
  Reply operator()(const NetlistQuestion&) const { return about_site({{"deck", electric::deck(site())}}, true); }
  Reply operator()(const PartsQuestion& question) const {
    const auto told = answer(question);
    return told.answer ? written(json_of(*told.answer), nullptr, true) : refusal(command_, told.problems);
  }
  Reply operator()(const RulesQuestion& question) const {
    const auto told = answer(question);
    return told.answer ? written(json_of(*told.answer), nullptr, true) : refusal(command_, told.problems);
  }
  Reply operator()(const SchemaQuestion& question) const {
    const auto told = answer(question);
    if (!told.answer) return refusal(command_, told.problems);
    if (question.field.empty()) return {told.answer->schema, 0};
    return written(json_of(*told.answer), nullptr, true);
  }

 private:
  const site::Site& site() const {
    if (site_ == nullptr) throw std::logic_error("question " + command_ + " without a site");
    return *site_;
  }
  Reply about_site(Json results, bool well) const { return written(std::move(results), &site(), well); }
  Reply written(Json results, const site::Site* of, bool well) const {
    const auto hash = of != nullptr ? std::optional(site::site_hash(*of)) : std::nullopt;
    return {results_text(command_, hash, std::move(results)), well ? 0 : 1};
  }

  const site::Site* site_;
  const std::vector<Message>& notes_;
  std::string command_;
  const Progress& progress_;
  Kept* kept_;
};

struct WantsSite {
  bool operator()(const TerminalQuestion& question) const {
    return question.open.empty() && question.over.empty() && question.shorted.empty();
  }
  bool operator()(const PartsQuestion&) const { return false; }
  bool operator()(const RulesQuestion&) const { return false; }
  bool operator()(const SchemaQuestion&) const { return false; }
  template <class Other>
  bool operator()(const Other&) const {
    return true;
  }
};

}  // namespace

Reply ask(const site::Site* site, const std::vector<Message>& notes, const Question& question, const Progress& progress,
          Kept* kept) {
  return std::visit(Asking(site, notes, command_of(question), progress, kept), question);
}

bool needs_site(const Question& question) { return std::visit(WantsSite(), question); }

Reply refusal(const std::string& command, const std::vector<Message>& problems) {
  int status = 0;
  for (const Message& problem : problems) status = std::max(status, kind_of(problem.code).exit_status);
  return {results_text(command, std::nullopt, {{"problems", json_of(problems)}}), status};
}

}  // namespace zoneproof::results

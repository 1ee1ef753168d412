#include "proof/demo.hpp"

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/file.hpp"
#include "base/json_text.hpp"
#include "electric/answers.hpp"
#include "results/proof.hpp"
#include "sight/answers.hpp"
#include "site/file.hpp"

namespace zoneproof::demo {

namespace {

std::string path_of(const std::string& file) { return std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + file; }

void refuse_errors(const std::string& file, const std::vector<Message>& messages) {
  if (!any_error(messages)) return;
  std::string all = file + ":";
  for (const Message& message : messages) all += "\n  " + full_text(message);
  throw std::runtime_error(all);
}

constexpr chain::Link all_links[] = {chain::Link::sense, chain::Link::loop, chain::Link::trigger, chain::Link::view,
                                     chain::Link::deliver};

}  // namespace

std::vector<std::string> names(const std::string& folder, const std::string& ending) {
  std::vector<std::string> found;
  for (const auto& entry : std::filesystem::directory_iterator(path_of(folder))) {
    const std::string name = entry.path().filename().string();
    if (name.size() <= ending.size() || name.substr(name.size() - ending.size()) != ending) continue;
    found.push_back(name.substr(0, name.size() - ending.size()));
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::string bytes(const std::string& file) {
  std::vector<Message> messages;
  const std::optional<std::string> read = read_file(path_of(file), messages);
  refuse_errors(file, messages);
  return read.value();
}

nlohmann::ordered_json json(const std::string& file) {
  std::vector<Message> messages;
  nlohmann::ordered_json value = parse_json(bytes(file), file, messages);
  refuse_errors(file, messages);
  return value;
}

site::Site site_of(const std::string& text, const std::string& name) {
  site::ReadResult read = site::read_site(text, name);
  refuse_errors(name, read.messages);
  return std::move(*read.site);
}

site::Site kiln_yard() { return site_of(bytes("kiln-yard.site.json"), "kiln-yard.site.json"); }
site::Site tern_hollow() { return site_of(bytes("tern-hollow.site.json"), "tern-hollow.site.json"); }

proof::Proof prove(const site::Site& site) { return results::proof_of(site, "", {}); }

proof::Proof prove_wiring(const site::Site& site) {
  std::vector<chain::Evidence> answers = electric::electrical_answers(site);
  chain::append(answers, sight::sight_answers(site));
  return proof::join(site, answers);
}

Verdicts verdicts_of(const site::Site& site, const proof::Proof& proof) {
  Verdicts verdicts;
  for (const auto& [zone, entry] : site.zones) {
    for (chain::Link link : all_links) verdicts[{zone, chain::word(link)}] = {};
  }
  for (const proof::Chain& chain : proof.chains) {
    for (const proof::LinkAnswer& link : chain.links) {
      LinkVerdict& answer = verdicts[{chain.zone, chain::word(link.link)}];
      answer.verdict = chain::word(link.verdict);
      for (const chain::Evidence& evidence : link.evidence) {
        if (evidence.verdict == link.verdict) answer.checks.push_back(evidence.id);
      }
    }
  }
  return verdicts;
}

Verdicts expected_verdicts(const std::string& scenario) {
  Verdicts verdicts;
  const nlohmann::ordered_json expected = json(scenario + ".expected.json");
  for (const auto& [zone, links] : expected.at("zones").items()) {
    for (const auto& [link, wanted] : links.items()) {
      LinkVerdict& verdict = verdicts[{zone, link}];
      verdict.verdict = wanted.at("verdict").get<std::string>();
      if (wanted.contains("checks")) verdict.checks = wanted.at("checks").get<std::vector<std::string>>();
    }
  }
  return verdicts;
}

}  // namespace zoneproof::demo

#include "results/work.hpp"

#include <nlohmann/json.hpp>

#include "results/results.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

Json words_of(const std::optional<Message>& message) { return message ? Json(text(*message)) : Json(nullptr); }

Json json_of(const field::Place& place) { return {{"area", place.area}, {"device", place.device}}; }

Json json_of(const field::Expected& expected) {
  Json gaps = Json::array();
  for (const chain::Gap& gap : expected.gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  return {{"unit", expected.unit},
          {"low", json_of_number(expected.low)},
          {"nominal", json_of_number(expected.nominal)},
          {"high", json_of_number(expected.high)},
          {"unbounded", expected.unbounded},
          {"exact", expected.exact},
          {"gaps", std::move(gaps)}};
}

Json json_of(const field::Step& step) {
  Json probes = nullptr;
  if (step.probes) probes = {{"red", text(step.probes->red)}, {"black", text(step.probes->black)}};
  Json blanks = Json::array(), dangers = Json::array(), notes = Json::array();
  for (const field::Blank& blank : step.blanks)
    blanks.push_back({{"kind", word(blank.kind)}, {"unit", blank.unit}, {"label", text(blank.label)}});
  for (const Message& danger : step.dangers) dangers.push_back(text(danger));
  for (const Message& note : step.notes) notes.push_back(text(note));
  return {{"id", step.id},
          {"phase", word(step.phase)},
          {"place", json_of(step.place)},
          {"zone", step.zone},
          {"subject", step.subject},
          {"what", text(step.what)},
          {"notes", std::move(notes)},
          {"state", text(step.state)},
          {"probes", std::move(probes)},
          {"expected", step.expected ? json_of(*step.expected) : Json(nullptr)},
          {"expected_words", words_of(step.expected_words)},
          {"proves", text(step.proves)},
          {"dangers", std::move(dangers)},
          {"blanks", std::move(blanks)},
          {"after", step.after}};
}

Json json_of(const materials::CableRow& row) {
  Json uses = Json::array();
  for (const site::CableUse& use : row.uses)
    uses.push_back(
        {{"kind", word(use.kind)}, {"from", use.from}, {"to", use.to}, {"of", use.of}, {"cores", use.cores}});
  const auto count = [](const std::optional<long long>& number) { return number ? Json(*number) : Json(nullptr); };
  return {{"id", row.id},
          {"name", row.name},
          {"part", row.part},
          {"part_name", row.part_name},
          {"length_from", word(row.from)},
          {"length_m", json_of_number(row.length_m)},
          {"length_min_m", json_of_number(row.length_min_m)},
          {"length_max_m", json_of_number(row.length_max_m)},
          {"length_lacks", row.length_lacks},
          {"areas", row.areas},
          {"uses", std::move(uses)},
          {"cores_used", count(row.cores_used)},
          {"cores_there", count(row.cores_there)},
          {"new", row.new_here}};
}

Json json_of(const materials::PartCount& part) {
  return {{"kind", word(part.kind)},
          {"item", part.item},
          {"name", part.name},
          {"unit", part.metres ? "m" : "piece"},
          {"count", json_of_number(part.count)},
          {"known_count", json_of_number(part.known_count)},
          {"estimated", json_of_number(part.estimated)},
          {"there", json_of_number(part.there)},
          {"places", part.places}};
}

Json json_of(const materials::Work& work) {
  Json lacks = Json::array();
  for (const Message& one : work.lacks) lacks.push_back(text(one));
  return {{"task", work.task},
          {"meaning", work.meaning},
          {"count", json_of_number(work.count)},
          {"known_count", json_of_number(work.known_count)},
          {"lacks", std::move(lacks)},
          {"minutes_each", json_of_number(work.minutes_each)},
          {"verified", work.verified}};
}

Json decimal_or_null(const std::optional<materials::Decimal>& value) {
  return value ? Json(materials::text(*value)) : Json(nullptr);
}

Json json_of(const materials::Price& price) {
  const auto amount = [&](const std::optional<std::int64_t>& whole) {
    return whole ? Json(materials::amount_text(*whole, price.places)) : Json(nullptr);
  };
  Json lines = Json::array(), taxes = Json::array();
  for (const materials::PriceLine& line : price.lines) {
    lines.push_back({{"item", line.item},
                     {"name", line.name},
                     {"unit", word(line.unit)},
                     {"quantity", decimal_or_null(line.quantity)},
                     {"estimated", line.estimated},
                     {"price", decimal_or_null(line.price)},
                     {"net", amount(line.net)},
                     {"tax_pct", decimal_or_null(line.tax_pct)},
                     {"unpriced", words_of(line.unpriced)}});
  }
  for (const materials::TaxSum& tax : price.taxes)
    taxes.push_back({{"rate_pct", decimal_or_null(tax.rate_pct)}, {"net", amount(tax.net)}, {"tax", amount(tax.tax)}});
  return {{"currency", price.currency}, {"places", price.places},      {"lines", std::move(lines)},
          {"taxes", std::move(taxes)},  {"net", amount(price.net)},    {"gross", amount(price.gross)},
          {"complete", price.complete}, {"estimated", price.estimated}};
}

template <class All>
Json list_of(const All& all) {
  Json list = Json::array();
  for (const auto& one : all) list.push_back(json_of(one));
  return list;
}

}  // namespace

Json json_of(const field::OrderOfWork& work) {
  Json phases = Json::array(), left = Json::array();
  for (const field::PhaseOfWork& phase : work.phases) {
    Json stops = Json::array();
    for (const field::Stop& stop : phase.stops) {
      Json steps = Json::array();
      for (std::size_t step : stop.steps) steps.push_back(work.steps.at(step).id);
      stops.push_back({{"place", json_of(stop.place)}, {"steps", std::move(steps)}});
    }
    phases.push_back(
        {{"phase", word(phase.phase)}, {"walk_m", json_of_number(phase.walk_m)}, {"stops", std::move(stops)}});
  }
  for (const field::LeftAlone& one : work.left_alone)
    left.push_back({{"zone", one.zone}, {"because", text(one.because)}});
  return {{"steps", list_of(work.steps)}, {"phases", std::move(phases)}, {"left_alone", std::move(left)}};
}

Json json_of(const materials::Materials& materials) {
  Json notes = Json::array();
  for (const Message& note : materials.notes) notes.push_back(text(note));
  return {
      {"cables", list_of(materials.cables)}, {"parts", list_of(materials.parts)},
      {"work", list_of(materials.work)},     {"minutes", json_of_number(materials.minutes)},
      {"notes", std::move(notes)},           {"price", materials.price ? json_of(*materials.price) : Json(nullptr)}};
}

}  // namespace zoneproof::results

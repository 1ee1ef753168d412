// Reading and writing JSON text of about 10 MB, beside the library alone: what the strictness costs.
#include <benchmark/benchmark.h>

#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>

#include "base/json_place.hpp"
#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "base/sha256.hpp"

namespace {

using Json = nlohmann::ordered_json;

/// A text shaped like a site file: a map of objects of numbers, names and short lists.
const std::string& site_like_text() {
  static const std::string text = [] {
    Json document = Json::object();
    Json& zones = document["zones"] = Json::object();
    Json::object_t& members = zones.get_ref<Json::object_t&>();
    for (int i = 0; i < 40000; ++i) {
      Json zone = {{"number", i},
                   {"name", "Zone " + std::to_string(i)},
                   {"loop", {{"eol_ohm", {{"value", 5600}, {"tolerance_pct", 5}}}, {"contacts", {"alarm", "tamper"}}}},
                   {"cable", {{"length_m", 0.1 * i}, {"area_mm2", 0.22}, {"origin", "measured"}}}};
      members.std::vector<Json::object_t::value_type>::emplace_back("zone_" + std::to_string(i), std::move(zone));
    }
    return zoneproof::write_json(document);
  }();
  return text;
}

void bytes_of(benchmark::State& state) {
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(site_like_text().size()));
}

void parse_strictly(benchmark::State& state) {
  for (auto _ : state) {
    std::vector<zoneproof::Message> messages;
    const Json value = zoneproof::parse_json(site_like_text(), "", messages);
    if (!messages.empty()) throw std::logic_error("the text has a fault");
    benchmark::DoNotOptimize(&value);
  }
  bytes_of(state);
}

void parse_with_the_library_alone(benchmark::State& state) {
  for (auto _ : state) {
    const auto value = nlohmann::json::parse(site_like_text());
    benchmark::DoNotOptimize(&value);
  }
  bytes_of(state);
}

void write_canonically(benchmark::State& state) {
  const auto value = Json(nlohmann::json::parse(site_like_text()));
  for (auto _ : state) benchmark::DoNotOptimize(zoneproof::write_json(value));
  bytes_of(state);
}

void locate_pointers(benchmark::State& state) {
  std::vector<std::string> pointers;
  for (std::int64_t i = 0; i < state.range(0); ++i) {
    const std::string zone = zoneproof::pointer_child("/zones", "zone_" + std::to_string(i * 7919 % 40000));
    pointers.push_back(zone + "/cable/length_m");
  }
  for (auto _ : state) benchmark::DoNotOptimize(zoneproof::locate(site_like_text(), pointers));
  bytes_of(state);
}

void hash(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(zoneproof::sha256(site_like_text()));
  bytes_of(state);
}

BENCHMARK(parse_strictly)->Unit(benchmark::kMillisecond);
BENCHMARK(parse_with_the_library_alone)->Unit(benchmark::kMillisecond);
BENCHMARK(write_canonically)->Unit(benchmark::kMillisecond);
BENCHMARK(locate_pointers)->Arg(1)->Arg(1000)->Arg(20000)->Unit(benchmark::kMillisecond);
BENCHMARK(hash)->Unit(benchmark::kMillisecond);

}  // namespace

#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "site/field.hpp"
#include "site/findings.hpp"

/// Objects to and from JSON values, driven by the field definitions alone.
namespace zoneproof::site {

/// Reads JSON objects into structs. Every fault becomes a finding and leaves its member unknown; the rest is read on.
class RecordReader {
 public:
  explicit RecordReader(Findings& findings) : findings_(findings) {}

  /// Fills `object`, a struct of `record`, from `json`. Every number, reference, count, flag and word of it gets its
  /// pointer, unknown ones too. `inherited` is the origin in force for plain numbers. `also_known` is a key that the
  /// caller reads itself. Cost: linear in the text of the value.
  void read(const Record& record, void* object, const nlohmann::ordered_json& json,
            std::optional<Origin> inherited = std::nullopt, std::string_view also_known = "");

  /// Pointers of the maps and lists that were not read: they hold too many entries or are no maps.
  const std::set<std::string>& skipped() const { return skipped_; }

 private:
  class Deeper;

  void read_field(const Field& field, void* object, const nlohmann::ordered_json& json,
                  std::optional<Origin> inherited);
  void read_nested(const Field& field, void* member, const nlohmann::ordered_json& json,
                   std::optional<Origin> inherited);
  void read_map(const Field& field, void* member, const nlohmann::ordered_json& json, std::optional<Origin> inherited);
  void read_list(const Field& field, void* member, const nlohmann::ordered_json& json, std::optional<Origin> inherited);
  void read_references(const Field& field, void* member, const nlohmann::ordered_json& json);
  void read_scalar(const Field& field, void* member, const nlohmann::ordered_json& json);
  void read_whole(const Field& field, const nlohmann::ordered_json& json, std::optional<long long>& out);
  void read_flag(const Field& field, void* member, const nlohmann::ordered_json& json);
  void read_text(const Field& field, void* member, const nlohmann::ordered_json& json);
  void read_word(const Field& field, void* member, const nlohmann::ordered_json& json);
  std::string read_id(const Field& field, const nlohmann::ordered_json& json, bool may_be_none);
  bool fit_for_text(std::string_view text, const Field& field);
  bool few_enough(const Field& field, std::size_t count);
  void unknown_key(const Record& record, const std::string& key, const nlohmann::ordered_json& value);

  Findings& findings_;
  std::string pointer_;
  std::set<std::string> skipped_;
};

/// Which empty things are written.
enum class Written {
  canonical,  ///< none but required ones: what is unknown or empty is left out
  complete    ///< empty maps, lists and nested objects stand as such, so that a patch can add to them
};

/// The JSON object of a struct. Reading it gives the same object again, in both forms.
nlohmann::ordered_json write_record(const Record& record, const void* object, Written how = Written::canonical);

/// Whether `id` is spelled as ids of that form are.
bool well_formed_id(std::string_view id, IdForm form);

}  // namespace zoneproof::site

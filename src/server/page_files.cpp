#include "server/page_files.hpp"

#include <algorithm>
#include <filesystem>

#include "base/file.hpp"
#include "drawing/fonts.hpp"

namespace zoneproof::server {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view kPage = "index.html";
constexpr std::string_view kHashed = "assets/";  ///< files whose names change with what is in them
constexpr const char* kForever = "public, max-age=31536000, immutable";
constexpr const char* kAskAgain = "no-cache";
constexpr const char* kForAWeek = "public, max-age=604800";
constexpr std::string_view kFonts = "fonts";

struct Kind {
  std::string_view ending, type;
};
constexpr Kind kKinds[] = {
    {".html", "text/html; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".mjs", "text/javascript; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".json", "application/json; charset=utf-8"},
    {".webmanifest", "application/manifest+json; charset=utf-8"},
    {".wasm", "application/wasm"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".ico", "image/x-icon"},
    {".woff2", "font/woff2"},
    {".woff", "font/woff"},
    {".otf", "font/otf"},
    {".ttf", "font/ttf"},
    {".txt", "text/plain; charset=utf-8"},
};

/// The letters of drawings and page lie beside the program (src/drawing/fonts.hpp).
std::optional<Response> font_of_program(const std::string& name) {
  const auto& known = drawing::font_files();
  if (std::find(known.begin(), known.end(), name) == known.end()) return std::nullopt;
  std::vector<Message> problems;
  auto bytes = read_file((fs::path(drawing::folder_of_fonts()) / name).string(), problems);
  if (!bytes) return std::nullopt;
  Response response;
  response.with("Content-Type", std::string(media_type_of(name))).with("Cache-Control", kForAWeek);
  response.own(std::move(*bytes));
  return response;
}

std::string joined(const std::vector<std::string>& path) {
  std::string whole;
  for (const std::string& segment : path) whole += (whole.empty() ? "" : "/") + segment;
  return whole;
}

bool is_place_in_page(const Target& target) { return target.path.back().find('.') == std::string::npos; }

}  // namespace

std::string_view media_type_of(std::string_view path) {
  const std::size_t point = path.rfind('.');
  const std::string_view ending = point == std::string_view::npos ? std::string_view() : path.substr(point);
  const auto found =
      std::find_if(std::begin(kKinds), std::end(kKinds), [&](const Kind& kind) { return kind.ending == ending; });
  return found == std::end(kKinds) ? "application/octet-stream" : found->type;
}

bool PageFiles::there() const {
  std::error_code fault;
  return folder_.empty() ? !page_in_program().empty() : fs::exists(fs::path(folder_) / kPage, fault);
}

std::optional<Response> PageFiles::find(const Target& target, const Request& request) const {
  const std::string path = joined(target.path);
  auto look = [&](const std::string& name) {
    return folder_.empty() ? from_program(name, request) : from_folder(name);
  };
  if (target.path.size() == 2 && target.path[0] == kFonts)
    if (auto font = font_of_program(target.path[1])) return font;
  if (!path.empty())
    if (auto found = look(path)) return found;
  if (!is_place_in_page(target)) return std::nullopt;
  return look(std::string(kPage));
}

std::optional<Response> PageFiles::from_program(const std::string& path, const Request& request) const {
  const auto& files = page_in_program();
  const auto file = std::lower_bound(files.begin(), files.end(), path,
                                     [](const BinaryFile& one, const std::string& name) { return one.path < name; });
  if (file == files.end() || file->path != path) return std::nullopt;
  const std::string tag = '"' + std::string(file->tag) + '"';
  Response response;
  response.with("ETag", tag).with("Vary", "Accept-Encoding");
  response.with("Cache-Control", path.rfind(kHashed, 0) == 0 ? kForever : kAskAgain);
  if (names_tag(request.header("If-None-Match"), tag)) {
    response.status = 304;
    return response;
  }
  response.with("Content-Type", std::string(media_type_of(path)));
  const bool compressed = !file->gzip.empty() && takes_gzip(request.header("Accept-Encoding"));
  if (compressed) response.with("Content-Encoding", "gzip");
  response.body = compressed ? file->gzip : file->bytes;
  return response;
}

/// The segments of `path` are sound (read_target); a link out of the folder is not followed either.
std::optional<Response> PageFiles::from_folder(const std::string& path) const {
  std::error_code fault;
  const fs::path root = fs::weakly_canonical(folder_, fault);
  const fs::path file = fs::weakly_canonical(root / path, fault);
  const fs::path within = file.lexically_relative(root);
  if (fault || within.empty() || *within.begin() == ".." || !fs::is_regular_file(file, fault)) return std::nullopt;
  std::vector<Message> problems;
  auto bytes = read_file(file.string(), problems);
  if (!bytes) return std::nullopt;
  Response response;
  response.with("Content-Type", std::string(media_type_of(path))).with("Cache-Control", "no-store");
  response.own(std::move(*bytes));
  return response;
}

}  // namespace zoneproof::server

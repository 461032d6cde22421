#include "sorting/photo_names.h"

#include <algorithm>
#include <array>
#include <cctype>

namespace scantling {
namespace fs = std::filesystem;

namespace {

bool digit(char c) {
  return c >= '0' && c <= '9';
}

/// The number that begins at `at`, without leading zeros; `at` moves behind it.
std::string number_at(const std::string& text, std::size_t& at) {
  while (at < text.size() && text[at] == '0') ++at;
  const std::size_t from = at;
  while (at < text.size() && digit(text[at])) ++at;
  return text.substr(from, at - from);
}

}  // namespace

bool name_before(const std::string& a, const std::string& b) {
  std::size_t i = 0, k = 0;
  while (i < a.size() && k < b.size()) {
    if (digit(a[i]) && digit(b[k])) {
      const std::string x = number_at(a, i), y = number_at(b, k);
      if (x.size() != y.size()) return x.size() < y.size();
      if (x != y) return x < y;
    } else {
      if (a[i] != b[k]) return a[i] < b[k];
      ++i, ++k;
    }
  }
  if (a.size() - i != b.size() - k) return a.size() - i < b.size() - k;
  return a < b;  // differ in leading zeros only
}

bool named_like_photo(const fs::path& file) {
  static constexpr std::array kEndings = {".jpg",  ".jpeg", ".png", ".tif",
                                          ".tiff", ".heic", ".heif"};
  const std::string name = file.filename().string();
  if (name.empty() || name.front() == '.') return false;
  std::string ending = file.extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return std::find(kEndings.begin(), kEndings.end(), ending) != kEndings.end();
}

std::vector<fs::path> photos_meant(const std::vector<fs::path>& given) {
  std::vector<fs::path> photos;
  for (const fs::path& path : given) {
    std::error_code fault;
    if (!fs::is_directory(path, fault)) {
      photos.push_back(path);
      continue;
    }
    std::vector<fs::path> inside;
    for (fs::directory_iterator it(path, fault), end; !fault && it != end; it.increment(fault))
      if (named_like_photo(it->path()) && !it->is_directory(fault)) inside.push_back(it->path());
    std::sort(inside.begin(), inside.end(), [](const fs::path& a, const fs::path& b) {
      return name_before(a.filename().string(), b.filename().string());
    });
    photos.insert(photos.end(), inside.begin(), inside.end());
  }
  return photos;
}

}  // namespace scantling

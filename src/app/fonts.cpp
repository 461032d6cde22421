#include "app/fonts.h"

#include <fontconfig/fontconfig.h>
#include <imgui_freetype.h>

#include <cmath>
#include <filesystem>
#include <string>

namespace scantling {

namespace {

Fonts loaded;

// The file of a family, or nothing: fontconfig always answers with some font, so the family that
// came back is compared with the one asked for.
std::string font_file(const char* family, int weight) {
  FcPattern* asked = FcPatternCreate();
  FcPatternAddString(asked, FC_FAMILY, reinterpret_cast<const FcChar8*>(family));
  FcPatternAddInteger(asked, FC_WEIGHT, weight);
  FcPatternAddInteger(asked, FC_SLANT, FC_SLANT_ROMAN);
  FcConfigSubstitute(nullptr, asked, FcMatchPattern);
  FcDefaultSubstitute(asked);
  FcResult result = FcResultNoMatch;
  FcPattern* match = FcFontMatch(nullptr, asked, &result);
  std::string file;
  if (match) {
    FcChar8* name = nullptr;
    FcChar8* path = nullptr;
    if (FcPatternGetString(match, FC_FAMILY, 0, &name) == FcResultMatch &&
        FcPatternGetString(match, FC_FILE, 0, &path) == FcResultMatch &&
        std::string(reinterpret_cast<const char*>(name)) == family)
      file = reinterpret_cast<const char*>(path);
    FcPatternDestroy(match);
  }
  FcPatternDestroy(asked);
  std::error_code ignored;
  // ImGui asserts on a missing file, so it never hears of one.
  return std::filesystem::is_regular_file(file, ignored) ? file : std::string();
}

std::string best_file(int weight) {
  for (const char* family : {"Inter", "DejaVu Sans"})
    if (std::string file = font_file(family, weight); !file.empty()) return file;
  return {};
}

// Latin with its extensions, Greek, Cyrillic (names of owners and cars), punctuation, arrows,
// signs.
constexpr ImWchar kText[] = {0x0020, 0x024F, 0x0370, 0x052F, 0x2010, 0x2044, 0x20AC,
                             0x20AC, 0x2190, 0x2193, 0x2212, 0x2212, 0x2248, 0x2248,
                             0x2264, 0x2265, 0x2713, 0x2713, 0x00D7, 0x00D7, 0};
constexpr ImWchar kFigure[] = {0x0020, 0x007E, 0x00B1, 0x00B1, 0x2010, 0x2014,
                               0x2026, 0x2026, 0x2212, 0x2212, 0};

ImFont* add(const std::string& file, float size, const ImWchar* ranges) {
  ImFontAtlas* atlas = ImGui::GetIO().Fonts;
  const float pixels = std::round(size);
  if (!file.empty())
    if (ImFont* font = atlas->AddFontFromFileTTF(file.c_str(), pixels, nullptr, ranges))
      return font;
  ImFontConfig config;
  config.SizePixels = pixels;
  return atlas->AddFontDefault(&config);
}

}  // namespace

Fonts load_fonts(float scale) {
  ImFontAtlas* atlas = ImGui::GetIO().Fonts;
  atlas->Clear();
  atlas->FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
  atlas->FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
  const std::string regular = best_file(FC_WEIGHT_REGULAR);
  const std::string half_bold = best_file(FC_WEIGHT_DEMIBOLD);
  loaded.body = add(regular, 15 * scale, kText);
  loaded.strong = add(half_bold, 15 * scale, kText);
  loaded.small = add(regular, 13 * scale, kText);
  loaded.large = add(half_bold, 24 * scale, kText);
  loaded.figure = add(half_bold, 56 * scale, kFigure);
  return loaded;
}

const Fonts& fonts() {
  return loaded;
}

}  // namespace scantling

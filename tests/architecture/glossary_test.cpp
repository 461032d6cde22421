// The contributor guide's table of words names every sub-command, menu item, key, heading, button,
// field, choice, dialog, tag and state of the program.

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

fs::path source(const char* below) {
  return fs::path(SCANTLING_SOURCE_DIR) / below;
}

/// What stands in backquotes in the section on words.
const std::set<std::string>& glossary() {
  static const std::set<std::string> words = [] {
    const std::string guide = text_of(source("DEVELOPERS.md"));
    const auto begin = guide.find("## Words, colours and shapes");
    const auto end = guide.find("\n## ", begin + 3);
    const std::string section = begin == std::string::npos ? "" : guide.substr(begin, end - begin);
    std::set<std::string> found;
    const std::regex quoted("`([^`\n]+)`");
    for (std::sregex_iterator i(section.begin(), section.end(), quoted), none; i != none; ++i)
      found.insert((*i)[1]);
    return found;
  }();
  return words;
}

/// The groups of every match in the sources of a folder, or in one of them.
std::set<std::string> words_in(const char* folder, const std::string& pattern,
                               const std::string& file = {}) {
  std::set<std::string> found;
  const std::regex wanted(pattern);
  for (const fs::directory_entry& entry : fs::directory_iterator(source(folder))) {
    if (entry.path().extension() != ".cpp") continue;
    if (!file.empty() && entry.path().filename() != file) continue;
    const std::string text = text_of(entry.path());
    for (std::sregex_iterator i(text.begin(), text.end(), wanted), none; i != none; ++i)
      for (std::size_t group = 1; group < i->size(); ++group)
        if ((*i)[group].matched) found.insert((*i)[group]);
  }
  return found;
}

/// Those of several patterns that are words for people: a sign such as "×" needs no telling, and
/// a name such as "fitted_size:" is the test probe's.
std::set<std::string> labels_in(const std::vector<std::string>& patterns,
                                const std::string& file = {}) {
  std::set<std::string> words;
  for (const std::string& pattern : patterns) words.merge(words_in("src/app", pattern, file));
  std::erase_if(words, [](const std::string& word) {
    const bool letters =
        std::any_of(word.begin(), word.end(), [](unsigned char c) { return std::isalpha(c) != 0; });
    return !letters || word.find_first_of("_:\\{") != std::string::npos;
  });
  return words;
}

void expect_told(const std::set<std::string>& words, std::size_t at_least, const char* what) {
  EXPECT_GE(words.size(), at_least) << what << ": the pattern finds too few of them";
  for (const std::string& word : words)
    EXPECT_TRUE(glossary().contains(word))
        << what << " \"" << word
        << "\" is missing in \"Words, colours and shapes\" of DEVELOPERS.md: say there whether it "
           "is a common word or coined here";
}

TEST(Glossary, NamesEverySubcommand) {
  expect_told(words_in("src/command_line", R"re(add_subcommand\(\s*"([a-z]+)")re"), 15,
              "sub-command");
}

TEST(Glossary, NamesEveryMenuItem) {
  expect_told(words_in("src/app", R"re((?:[^_]item|open_menu)\(app, "([A-Z][^"]*)")re"), 30,
              "menu item");
}

TEST(Glossary, NamesEveryKey) {
  expect_told(words_in("src/app", R"re(\n    \{"([^"]+)", "[^"]*", k[A-Z])re"), 15, "key");
}

TEST(Glossary, NamesEveryHeading) {
  std::set<std::string> words = words_in("src/app", R"re((?:heading\(|fold\(app, )"([^"]+)")re");
  std::erase_if(words, [](const std::string& word) {
    return word.find_first_of("abcdefghijklmnopqrstuvwxyz") == std::string::npos ||
           word.starts_with("\u00B1");
  });
  expect_told(words, 15, "heading");
}

TEST(Glossary, NamesEveryButton) {
  std::set<std::string> words = labels_in(
      {R"re((?:small_button|wide_button|default_button|tool_button|link|choice)\(\s*app_?,\s*"([^"]+)")re",
       R"re((?:small_button|wide_button|default_button)\(\s*app,[^"?]*\?\s*"([^"]+)"\s*:\s*"([^"]+)")re",
       R"re([ ,{=](?:text|tool)\(\s*"([^"]+)",\s*")re",
       R"re((?:paint\.button|[^_a-z]button)\(\s*"([^"]+)")re",
       R"re([^_a-z]button\([^"?()]*\?\s*"([^"]+)"\s*:\s*"([^"]+)")re",
       R"re(\{"([^"]+)", "import_)re", R"re(Shown\{"([^"]+)")re"});
  words.merge(labels_in({R"re([?:] "([A-Z][a-z]+)")re"}, "file_chooser.cpp"));
  expect_told(words, 65, "button");
}

TEST(Glossary, NamesEveryField) {
  expect_told(labels_in({R"re([ (](?:field|row|named|label)\(\s*"([^"]+)")re"}), 25, "field");
}

TEST(Glossary, NamesEveryChoice) {
  std::set<std::string> words = labels_in(
      {R"re(RadioButton\("([^"]+)")re", R"re(Selectable\("([^"#]+))re", R"re(tick\("([^"]+)")re",
       R"re(CaptureGuide\{View::[a-z]+,\s*"([^"]+)")re", R"re(BeginCombo\("([^"#]+))re",
       R"re(kOrigins = \{"([^"]+)", "([^"]+)", "([^"]+)",\s*"([^"]+)")re"});
  words.merge(labels_in({R"re(\{"([^"]+)", "[a-z0-9_]+"\})re"}, "panel_settings.cpp"));
  expect_told(words, 25, "choice");
}

TEST(Glossary, NamesEveryDialog) {
  expect_told(
      labels_in({R"re((?:BeginPopupModal|OpenPopup)\("([^"#]+))re", R"re(kTitle = "([^"#]+))re",
                 R"re(title = form.is_new \? "([^"#]+)[^"]*" : "([^"#]+))re"}),
      7, "dialog");
}

TEST(Glossary, NamesEveryTagOfARow) {
  expect_told(labels_in({R"re(draw_tag\(draw, tags, "([^"]+)")re",
                         R"re(\)\) return "([a-z][^"]*)";|\.[a-z_]+\) return "([a-z][^"]*)";)re"},
                        "panel_sorting.cpp"),
              5, "tag");
}

TEST(Glossary, NamesEveryState) {
  std::set<std::string> words = words_in("src/report", R"re(summary\.state = "([^"]+)")re");
  words.merge(words_in("src/verdict", R"re(case VerdictState::[a-z_]+:\s+return "([^"]+)")re"));
  expect_told(words, 6, "state");
}

}  // namespace

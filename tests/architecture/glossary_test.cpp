// The contributor guide's table of words names every sub-command, menu item, key, heading and
// state of the program.

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

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

/// The first group of every match in the sources of a folder.
std::set<std::string> words_in(const char* folder, const std::string& pattern) {
  std::set<std::string> found;
  const std::regex wanted(pattern);
  for (const fs::directory_entry& entry : fs::directory_iterator(source(folder))) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string text = text_of(entry.path());
    for (std::sregex_iterator i(text.begin(), text.end(), wanted), none; i != none; ++i)
      found.insert((*i)[1]);
  }
  return found;
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

TEST(Glossary, NamesEveryState) {
  std::set<std::string> words = words_in("src/report", R"re(summary\.state = "([^"]+)")re");
  words.merge(words_in("src/verdict", R"re(case VerdictState::[a-z_]+:\s+return "([^"]+)")re"));
  expect_told(words, 6, "state");
}

}  // namespace

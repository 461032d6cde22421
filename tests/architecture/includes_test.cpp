// Which folder of src may include which: each folder's CMakeLists.txt says so in DEPENDS.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

using Table = std::map<std::string, std::set<std::string>>;

std::string text_of(const fs::path& file) {
  std::ifstream in(file);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

const fs::path kSrc = fs::path(SCANTLING_SOURCE_DIR) / "src";

/// The folders named in DEPENDS, in one call of scantling_module().
std::set<std::string> depends_of(std::string cmake) {
  cmake = std::regex_replace(cmake, std::regex("#[^\n]*"), "");
  std::set<std::string> folders;
  std::smatch call;
  if (!std::regex_search(cmake, call, std::regex(R"(scantling_module\(([^)]*)\))"))) return folders;
  std::istringstream words(call[1].str());
  bool inside = false;
  for (std::string word; words >> word;) {
    if (word == "DEPENDS")
      inside = true;
    else if (word == "SOURCES" || word == "LIBS" || word == "PRIVATE_LIBS")
      inside = false;
    else if (inside)
      folders.insert(word);
  }
  return folders;
}

Table allowed_table() {
  Table table;
  for (const fs::directory_entry& entry : fs::directory_iterator(kSrc))
    if (fs::exists(entry.path() / "CMakeLists.txt"))
      table[entry.path().filename()] = depends_of(text_of(entry.path() / "CMakeLists.txt"));
  return table;
}

std::vector<std::string> included_files(const std::string& source) {
  static const std::regex include(R"re((?:^|\n)[ \t]*#[ \t]*include[ \t]*"([^"]+)")re");
  std::vector<std::string> files;
  for (std::sregex_iterator it(source.begin(), source.end(), include), end; it != end; ++it)
    files.push_back((*it)[1]);
  return files;
}

/// Every include that the table does not allow, as "file includes other".
std::vector<std::string> trespasses(const std::string& file, const std::string& folder,
                                    const std::string& source, const Table& table) {
  std::vector<std::string> found;
  for (const std::string& included : included_files(source)) {
    const std::size_t slash = included.find('/');
    if (slash == std::string::npos) {
      found.push_back(file + " includes \"" + included + "\" without its folder");
      continue;
    }
    const std::string other = included.substr(0, slash);
    if (other != folder && !table.at(folder).contains(other))
      found.push_back(file + " includes " + included + ", but " + folder + " does not depend on " +
                      other);
  }
  return found;
}

TEST(Includes, StayWithinWhatEachFolderDependsOn) {
  const Table table = allowed_table();
  std::vector<std::string> found;
  int files = 0;
  for (const auto& [folder, depends] : table)
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(kSrc / folder)) {
      const fs::path extension = entry.path().extension();
      if (extension != ".h" && extension != ".cpp" && extension != ".in") continue;
      ++files;
      for (const std::string& text :
           trespasses(fs::relative(entry.path(), kSrc), folder, text_of(entry.path()), table))
        found.push_back(text);
    }
  EXPECT_GT(files, 20) << "the sources were not found";
  EXPECT_THAT(found, testing::IsEmpty());
}

TEST(Includes, DependOnlyOnFoldersBelow) {
  Table left = allowed_table();
  for (const auto& [folder, depends] : left)
    for (const std::string& other : depends)
      EXPECT_TRUE(left.contains(other))
          << folder << " depends on " << other << ", which is no folder";
  // Taking away again and again what depends on nothing left must empty the table.
  for (bool shrinking = true; shrinking;) {
    shrinking = false;
    for (auto it = left.begin(); it != left.end(); ++it)
      if (it->second.empty()) {
        const std::string done = it->first;
        left.erase(it);
        for (auto& row : left) row.second.erase(done);
        shrinking = true;
        break;
      }
  }
  std::vector<std::string> circle;
  for (const auto& row : left) circle.push_back(row.first);
  EXPECT_THAT(circle, testing::IsEmpty());
}

TEST(Includes, KeepTheVerdictFromEverSeeingAPhoto) {
  EXPECT_THAT(allowed_table().at("verdict"), testing::UnorderedElementsAre("base", "uncertainty"));
  EXPECT_THAT(allowed_table().at("uncertainty"), testing::UnorderedElementsAre("base"));
  EXPECT_THAT(allowed_table().at("base"), testing::IsEmpty());
}

TEST(Includes, AreReadByAReaderThatSeesATrespass) {
  const Table table{{"low", {}}, {"high", {"low"}}};
  EXPECT_THAT(trespasses("high/a.cpp", "high", "#include \"low/b.h\"\n#include <map>\n", table),
              testing::IsEmpty());
  EXPECT_THAT(trespasses("low/a.cpp", "low", "// first\n  # include \"high/b.h\"\n", table),
              testing::ElementsAre(testing::HasSubstr("low does not depend on high")));
  EXPECT_THAT(trespasses("low/a.cpp", "low", "#include \"b.h\"", table),
              testing::ElementsAre(testing::HasSubstr("without its folder")));
  EXPECT_THAT(depends_of("scantling_module(x SOURCES a.cpp # DEPENDS no\n DEPENDS b c LIBS d)"),
              testing::UnorderedElementsAre("b", "c"));
}

}  // namespace

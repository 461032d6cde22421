// The first page of the project stays short: these names and no more.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <set>
#include <string>

namespace {

namespace fs = std::filesystem;

struct ClosePipe {
  void operator()(FILE* pipe) const { pclose(pipe); }
};

std::string in_quotes(const std::string& path) {
  std::string quoted = "'";
  for (char c : path) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

/// Top-level names of what git keeps; empty without git or outside a checkout.
std::set<std::string> names_by_git() {
  const std::string command =
      "git -C " + in_quotes(SCANTLING_SOURCE_DIR) + " ls-files -z 2>/dev/null";
  const std::unique_ptr<FILE, ClosePipe> pipe(popen(command.c_str(), "r"));
  std::string listing;
  std::array<char, 4096> buffer{};
  for (std::size_t n = 0;
       pipe && (n = std::fread(buffer.data(), 1, buffer.size(), pipe.get())) > 0;)
    listing.append(buffer.data(), n);
  std::set<std::string> names;
  for (std::size_t start = 0; start < listing.size();) {
    const std::size_t end = listing.find('\0', start);
    const std::string file = listing.substr(start, end - start);
    names.insert(file.substr(0, file.find('/')));
    start = end == std::string::npos ? listing.size() : end + 1;
  }
  return names;
}

std::set<std::string> names_by_listing() {
  std::set<std::string> names;
  for (const fs::directory_entry& entry : fs::directory_iterator(SCANTLING_SOURCE_DIR))
    if (entry.path().filename() != "build") names.insert(entry.path().filename());
  return names;
}

TEST(TopLevel, ShowsExactlyTheAgreedNames) {
  std::set<std::string> names = names_by_git();
  if (names.empty()) names = names_by_listing();
  std::erase_if(names, [](const std::string& name) { return name.starts_with('.'); });
  EXPECT_THAT(names,
              testing::UnorderedElementsAre("CMakeLists.txt", "README.md", "DEVELOPERS.md", "src",
                                            "assets", "tests", "calibration", "LICENSE"));
}

}  // namespace

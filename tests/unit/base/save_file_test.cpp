#include "base/save_file.h"

#include <gmock/gmock.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

std::string content(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::size_t files_in(const fs::path& folder) {
  return static_cast<std::size_t>(
      std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

class SaveFile : public ::testing::Test {
 protected:
  TemporaryFolder folder;
  const fs::path path = folder.path() / "a file.pdf";
};

TEST_F(SaveFile, WritesEveryByteAndLeavesNothingElse) {
  const std::string bytes("one\0two\nthree", 13);
  save_file(path, bytes);
  EXPECT_EQ(content(path), bytes);
  EXPECT_EQ(files_in(folder.path()), 1u);
}

TEST_F(SaveFile, ReplacesAnOlderFileAndKeepsItsPermissions) {
  save_file(path, "a much longer text than the next");
  ASSERT_EQ(::chmod(path.c_str(), 0640), 0);
  save_file(path, "new");
  EXPECT_EQ(content(path), "new");
  EXPECT_EQ(static_cast<int>(fs::status(path).permissions()), 0640);
}

TEST_F(SaveFile, FollowsALink) {
  const fs::path link = folder.path() / "link";
  save_file(path, "old");
  fs::create_symlink(path, link);
  save_file(link, "new");
  EXPECT_TRUE(fs::is_symlink(link));
  EXPECT_EQ(content(path), "new");
}

TEST_F(SaveFile, WritesIntoADevice) {
  EXPECT_NO_THROW(save_file("/dev/null", "gone"));
  EXPECT_TRUE(fs::is_character_file("/dev/null"));
}

TEST_F(SaveFile, SaysWhyNotAndWhatToDo) {
  const auto sentence = [](const fs::path& target) -> std::string {
    try {
      save_file(target, "text");
    } catch (const UnwritableFile& error) {
      return error.what();
    }
    return "written";
  };
  EXPECT_THAT(sentence(folder.path() / "missing" / "a.pdf"), HasSubstr("Make its folder first"));
  EXPECT_THAT(sentence(folder.path()), HasSubstr("Is a directory"));
  EXPECT_THAT(sentence(""), HasSubstr("Cannot write"));
  EXPECT_THAT(sentence("/dev/full"), HasSubstr("Make room on the disk"));
  save_file(path, "a file");
  EXPECT_THAT(sentence(path / "below"), HasSubstr("Not a directory"));
  EXPECT_EQ(files_in(folder.path()), 1u);
}

}  // namespace
}  // namespace scantling

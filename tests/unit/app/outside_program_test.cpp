#include "app/outside_program.h"

#include <gmock/gmock.h>

#include <cstdlib>
#include <fstream>

#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::IsEmpty;

/// A PATH with one program on it, or none, for as long as this lives.
class OnPath {
 public:
  explicit OnPath(const std::string& body) {
    if (!body.empty()) {
      const fs::path file = folder_ / "xdg-open";
      std::ofstream(file) << "#!/bin/sh\n" << body << '\n';
      fs::permissions(file, fs::perms::owner_all);
    }
    setenv("PATH", folder_.path().c_str(), 1);
  }
  ~OnPath() { setenv("PATH", before_.c_str(), 1); }
  OnPath(const OnPath&) = delete;
  OnPath& operator=(const OnPath&) = delete;
  fs::path operator/(const char* name) const { return folder_ / name; }

 private:
  TemporaryFolder folder_;
  std::string before_ = std::getenv("PATH");
};

TEST(OutsideProgram, IsHandedTheFileAsItIsNamed) {
  const TemporaryFolder told;
  const OnPath path("echo \"$#:$1\" > '" + (told / "told").string() + "'");
  EXPECT_THAT(open_with_desktop("/a b/it's $HOME.pdf"), IsEmpty());
  std::ifstream in(told / "told");
  std::string line;
  std::getline(in, line);
  EXPECT_EQ(line, "1:/a b/it's $HOME.pdf");
}

TEST(OutsideProgram, ThatIsMissingIsSaid) {
  const OnPath path("");
  EXPECT_FALSE(program_on_path("xdg-open"));
  EXPECT_THAT(open_with_desktop("/a/b.pdf"), HasSubstr("no xdg-open"));
  EXPECT_THAT(open_with_desktop("/a/b.pdf"), HasSubstr("/a/b.pdf"));
}

TEST(OutsideProgram, ThatFindsNoProgramForItIsSaid) {
  const OnPath path("exit 3");
  EXPECT_THAT(open_with_desktop("/a/b.pdf"), HasSubstr("no program to open this: /a/b.pdf"));
}

}  // namespace
}  // namespace scantling

#include "sorting/photo_names.h"

#include <gmock/gmock.h>

#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;

TEST(PhotoNames, NumbersInThemCountAsNumbers) {
  EXPECT_TRUE(name_before("IMG 9.jpg", "IMG 10.jpg"));
  EXPECT_FALSE(name_before("IMG 10.jpg", "IMG 9.jpg"));
  EXPECT_TRUE(name_before("a2b3", "a2b12"));
  EXPECT_TRUE(name_before("a", "b"));
  EXPECT_TRUE(name_before("a", "ab"));
  EXPECT_NE(name_before("a01", "a1"), name_before("a1", "a01")) << "one of them comes first";
  EXPECT_FALSE(name_before("a1", "a1"));
  EXPECT_TRUE(name_before("99999999999999999999998", "99999999999999999999999"));
}

TEST(PhotoNames, EndingsInAnyCase) {
  for (const char* name : {"a.jpg", "a.JPG", "b.Heic", "c.tiff", "d.png"})
    EXPECT_TRUE(named_like_photo(name)) << name;
  for (const char* name : {"a.txt", "jpg", ".hidden.jpg", "a.jpg.part", "a", ""})
    EXPECT_FALSE(named_like_photo(name)) << name;
}

TEST(PhotoNames, AFolderStandsForItsPhotosAndAFileForItself) {
  const TemporaryFolder folder;
  fs::create_directory(folder / "album.jpg");
  for (const char* name : {"p10.jpg", "p9.jpg", "notes.txt", ".p1.jpg", "album.jpg/deeper.jpg"})
    folder.file(name, "x");
  const fs::path odd = folder.file("odd name", "x");
  EXPECT_THAT(photos_meant({odd, folder.path()}),
              testing::ElementsAre(odd, folder / "p9.jpg", folder / "p10.jpg"));
  EXPECT_THAT(photos_meant({folder / "not there.jpg"}),
              testing::ElementsAre(folder / "not there.jpg"))
      << "what is missing is said later, by name";
}

}  // namespace
}  // namespace scantling

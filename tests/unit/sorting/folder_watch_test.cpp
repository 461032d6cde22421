#include "sorting/folder_watch.h"

#include <gmock/gmock.h>

#include <fstream>

#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

void append(const fs::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary | std::ios::app) << bytes;
}

TEST(FolderWatch, WhatWasThereBeforeIsNotTold) {
  const TemporaryFolder folder;
  folder.file("old.jpg", "x");
  FolderWatch watch(folder.path());
  EXPECT_THAT(watch.look().arrived, IsEmpty());
  EXPECT_THAT(watch.look().arrived, IsEmpty());
}

TEST(FolderWatch, ANewPhotoIsToldOnceAndOnlyWhenItHasStoppedGrowing) {
  const TemporaryFolder folder;
  FolderWatch watch(folder.path());
  watch.look();
  const fs::path photo = folder.file("new.jpg", "");
  EXPECT_EQ(watch.look().growing, 1);
  EXPECT_THAT(watch.look().arrived, IsEmpty()) << "an empty file is not whole, however long it is";
  for (int i = 0; i < 3; ++i) {
    append(photo, "more");
    const FolderWatch::Look look = watch.look();
    EXPECT_THAT(look.arrived, IsEmpty());
    EXPECT_EQ(look.growing, 1);
  }
  EXPECT_THAT(watch.look().arrived, ElementsAre(photo));
  EXPECT_THAT(watch.look().arrived, IsEmpty());
}

TEST(FolderWatch, LooksIntoSubfoldersButNotIntoHiddenOnesOrAtOtherFiles) {
  const TemporaryFolder folder;
  FolderWatch watch(folder.path());
  watch.look();
  fs::create_directories(folder / "DCIM/Camera");
  fs::create_directories(folder / ".trash");
  folder.file("DCIM/Camera/p10.HEIC", "x");
  folder.file("DCIM/Camera/p9.jpg", "x");
  folder.file(".trash/gone.jpg", "x");
  folder.file("notes.txt", "x");
  folder.file("half.jpg.part", "x");
  watch.look();
  EXPECT_THAT(watch.look().arrived,
              ElementsAre(folder / "DCIM/Camera/p9.jpg", folder / "DCIM/Camera/p10.HEIC"));
}

TEST(FolderWatch, AnotherPhotoUnderAnOldNameIsNew) {
  const TemporaryFolder folder;
  folder.file("p.jpg", "x");
  FolderWatch watch(folder.path());
  watch.look();
  folder.file("p.jpg", "something else");
  watch.look();
  EXPECT_THAT(watch.look().arrived, ElementsAre(folder / "p.jpg"));
}

TEST(FolderWatch, AFolderThatIsGoneIsSaidAndLosesNothing) {
  const TemporaryFolder folder;
  const fs::path inside = folder / "phone";
  fs::create_directory(inside);
  folder.file("phone/old.jpg", "x");
  FolderWatch watch(inside);
  watch.look();
  fs::rename(inside, folder / "elsewhere");
  EXPECT_THAT(watch.look().fault, HasSubstr("cannot be looked at"));
  fs::rename(folder / "elsewhere", inside);
  watch.look();
  EXPECT_THAT(watch.look().arrived, IsEmpty()) << "it was known before";
}

TEST(FolderWatch, WhatNobodyDealtWithIsToldAgainAfterARestart) {
  const TemporaryFolder folder;
  const auto two_looks = [](FolderWatch& watch) {
    watch.look();
    return watch.look().arrived;
  };
  FolderWatch before(folder.path());
  before.look();
  const fs::path filed = folder.file("filed.jpg", "x");
  const fs::path waits = folder.file("filed.jpg 2.jpg", "x");
  EXPECT_THAT(two_looks(before), ElementsAre(filed, waits));
  before.dealt_with({filed, "/elsewhere/filed.jpg"});
  EXPECT_THAT(two_looks(before), IsEmpty()) << "it was told";
  FolderWatch after(folder.path(), before.known());
  EXPECT_THAT(two_looks(after), ElementsAre(waits));

  before.taken_up_again({filed});
  FolderWatch later(folder.path(), before.known());
  EXPECT_THAT(two_looks(later), ElementsAre(filed, waits));
}

TEST(FolderWatch, GoesOnAfterARestart) {
  const TemporaryFolder folder;
  const fs::path kept = folder / "state/known";
  fs::create_directory(folder / "phone");
  folder.file("phone/a\nb.jpg", "x");
  FolderWatch before(folder / "phone");
  before.look();
  ASSERT_TRUE(save_known_files(kept, before.folder(), before.known()));
  folder.file("phone/meanwhile.jpg", "x");
  const auto known = load_known_files(kept, folder / "phone");
  ASSERT_TRUE(known);
  EXPECT_EQ(*known, before.known());
  FolderWatch after(folder / "phone", known);
  after.look();
  EXPECT_THAT(after.look().arrived, ElementsAre(folder / "phone/meanwhile.jpg"));
  EXPECT_FALSE(load_known_files(kept, folder / "another")) << "those are of another folder";
  EXPECT_FALSE(load_known_files(folder / "none", folder / "phone"));
}

}  // namespace
}  // namespace scantling

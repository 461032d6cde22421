#include "app/file_dialog.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <fstream>
#include <stdexcept>
#include <thread>

#include "app/file_chooser.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using testing::Contains;
using testing::ElementsAre;

fs::path script(const TemporaryFolder& folder, const std::string& body) {
  const fs::path file = folder.path() / "zenity";
  std::ofstream(file) << "#!/bin/sh\n" << body << '\n';
  fs::permissions(file, fs::perms::owner_all);
  return file;
}

const FileQuestion kPhotos{"Open photos", false, {}, {"*.jpg", "*.png"}, "Photos"};

TEST(FileDialog, AsksForSeveralPhotos) {
  EXPECT_THAT(dialog_arguments(kPhotos),
              ElementsAre("zenity", "--file-selection", "--title", "Open photos", "--multiple",
                          "--separator", "\n", "--file-filter", "Photos | *.jpg *.JPG *.png *.PNG",
                          "--file-filter", "All files | *"));
}

TEST(FileDialog, AsksWhereToSave) {
  const auto arguments = dialog_arguments({"Save", true, "report.pdf", {}, {}});
  EXPECT_THAT(arguments, Contains("--save"));
  EXPECT_THAT(arguments, Contains("report.pdf"));
}

TEST(FileDialog, ReadsNamesWithBlanks) {
  const TemporaryFolder folder;
  const fs::path program = script(folder, R"(printf '/a b/one two.jpg\n/c/ö.png\n')");
  const std::atomic<bool> stop{false};
  EXPECT_THAT(ask_for_files(program, kPhotos, stop),
              ElementsAre(fs::path("/a b/one two.jpg"), fs::path("/c/ö.png")));
}

TEST(FileDialog, CancellingIsNoFault) {
  const TemporaryFolder folder;
  const std::atomic<bool> stop{false};
  EXPECT_TRUE(ask_for_files(script(folder, "exit 1"), kPhotos, stop).empty());
}

TEST(FileDialog, ABrokenDialogIsTold) {
  const TemporaryFolder folder;
  const std::atomic<bool> stop{false};
  EXPECT_THROW(ask_for_files(script(folder, "exit 9"), kPhotos, stop), std::runtime_error);
  EXPECT_THROW(ask_for_files(folder.path() / "none", kPhotos, stop), std::runtime_error);
}

TEST(FileDialog, ClosesWhenTheAppEnds) {
  const TemporaryFolder folder;
  const fs::path program = script(folder, "exec sleep 60");
  std::atomic<bool> stop{false};
  std::thread ender([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    stop = true;
  });
  const auto start = std::chrono::steady_clock::now();
  EXPECT_TRUE(ask_for_files(program, kPhotos, stop).empty());
  ender.join();
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(30));
}

TEST(FileChooser, KnowsPhotosByTheirEnding) {
  EXPECT_TRUE(fits_patterns("IMG_0001.JPG", kPhotos.patterns));
  EXPECT_TRUE(fits_patterns("a.b.png", kPhotos.patterns));
  EXPECT_FALSE(fits_patterns("notes.txt", kPhotos.patterns));
  EXPECT_FALSE(fits_patterns("jpg", kPhotos.patterns));
  EXPECT_TRUE(fits_patterns("anything", {}));
}

}  // namespace
}  // namespace scantling

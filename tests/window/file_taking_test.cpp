// Photos into the window and files out of it: dropped, through the desktop's dialog, through the
// chooser of our own.
#include <gtest/gtest.h>

#include <chrono>
#include <fstream>
#include <iterator>
#include <thread>

#include "support/run_program.h"
#include "support/temporary_folder.h"
#include "window/file_drop.h"
#include "window/shots.h"
#include "window/stand_in_dialog.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

// A photo under a name that is awkward on purpose.
fs::path photo_in(const fs::path& folder, const std::string& name, std::size_t which = 0) {
  fs::create_directories(folder);
  fs::copy_file(demo_photo(which), folder / name);
  return folder / name;
}

std::string content(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string pdf_text(const fs::path& pdf) {
  return run_program({"pdftotext", "-layout", pdf.string(), "-"}).output;
}

void wait_for_file(const WindowDriver& window, const fs::path& file) {
  window.wait_for(file.string(), [&](const json&) { return fs::exists(file); });
}

void wait_for_fault(const WindowDriver& window, const std::string& words) {
  window.wait_for("the words “" + words + "”", [&](const json& state) {
    return state.at("fault").get<std::string>().find(words) != std::string::npos;
  });
}

TEST(DroppedFiles, BecomeTheOpenPartsPhotos) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  const fs::path first = photo_in(folder / "garage, May", "left inner (ö).jpg");
  const fs::path second = photo_in(folder / "garage, May", "100% close.jpg", 1);
  // One at a time: several at once are sorted first.
  drop_files(window.display(), {first});
  window.wait_until_measured();
  drop_files(window.display(), {second});
  json now = window.wait_for("both photos",
                             [](const json& state) { return state.at("part").at("photos") == 2; });
  EXPECT_EQ(now["job"]["vehicle"], "Unsorted photos");
  window.screenshot(shot("dropped"));
  window.click("row:photo:1");
  window.wait_for("the first photo", [](const json& state) {
    return state.at("photo").at("name") == "left inner (ö).jpg";
  });
  window.click("pad:right_outer");
  drop_files(window.display(), {first});
  window.wait_for("the photo at the other pad", [](const json& state) {
    return state.at("part").at("side") == "right" && state.at("part").at("photos") == 1;
  });
}

TEST(DroppedFiles, ThatAreNoPhotosAreRefusedInASentence) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  drop_files(window.display(), {folder.file("notes.jpg", "not a picture")});
  window.wait_for("the refusal", [](const json& state) {
    return state.at("photo").at("checks") == json::array({"photo_not_a_photo"}) &&
           state.at("part").at("standing") == "gauge it";
  });
  window.screenshot(shot("dropped-no-photo"));
  drop_files(window.display(), {photo_in(folder.path(), "pad.jpg")});
  window.wait_until_measured();
}

TEST(DesktopDialog, OpensPhotos) {
  const TemporaryFolder folder;
  const StandInDialog dialog;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path(), {}, dialog.environment());
  dialog.cancel();
  window.click("button:open_photos");
  wait_for_file(window, dialog.asked());
  const json still = window.wait_for("the end of the dialog",
                                     [](const json& state) { return state.at("asking") == false; });
  EXPECT_EQ(still["screen"], "start");

  const fs::path photo = photo_in(folder / "a b", "one two.jpg");
  dialog.answer(photo.string() + "\n");
  window.click("button:open_photos");
  window.wait_until_measured();
  EXPECT_EQ(window.state()["photo"]["name"], "one two.jpg");
  EXPECT_NE(content(dialog.asked()).find("--multiple"), std::string::npos);
}

TEST(DesktopDialog, SavesSheetAndReport) {
  const TemporaryFolder folder;
  const StandInDialog dialog;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path(), {}, dialog.environment());
  dialog.answer((folder / "card.pdf").string() + "\n");
  window.click("button:sheet_a4");
  window.wait_for("the sheet", [](const json& state) {
    return state.at("notice").get<std::string>().find("card.pdf") != std::string::npos;
  });
  EXPECT_EQ(content(folder / "card.pdf").substr(0, 5), "%PDF-");
  window.screenshot(shot("sheet-saved"));

  window.click("button:demo");
  window.wait_until_measured();
  dialog.answer((folder / "the estate").string() + "\n");  // without an ending
  window.key("ctrl+p");
  window.wait_for("the report", [](const json& state) {
    return state.at("notice").get<std::string>().find("the estate.pdf") != std::string::npos;
  });
  EXPECT_NE(content(dialog.asked()).find("--confirm-overwrite"), std::string::npos);
  EXPECT_NE(pdf_text(folder / "the estate.pdf").find("The estate"), std::string::npos);
  window.screenshot(shot("report-saved"));

  // What was written can be opened from here, and its folder.
  window.click("button:open_written");
  wait_for_fault(window, "no xdg-open");
  window.screenshot(shot("no-xdg-open"));
  window.key("Escape");
  window.wait_for("no fault", [](const json& state) { return state.at("fault") == ""; });
  dialog.opener();
  window.click("button:open_written");
  window.wait_for("the opened report", [&](const json&) {
    return content(dialog.opened()) == (folder / "the estate.pdf").string() + "\n";
  });
  window.click("button:show_folder");
  window.wait_for("the shown folder", [&](const json&) {
    return content(dialog.opened()) == folder.path().string() + "\n";
  });

  // The dialog asked about “the estate” only: what is there under the full name stays.
  const std::string before = content(folder / "the estate.pdf");
  window.key("ctrl+p");
  wait_for_fault(window, "is there already");
  window.screenshot(shot("report-not-written-over"));
  EXPECT_EQ(content(folder / "the estate.pdf"), before);
}

// No dialog program on the PATH: the chooser of our own.
class OwnChooser : public testing::Test {
 protected:
  OwnChooser() {
    photo_in(folder_ / "Pictures" / "pads", "left inner.jpg");
    photo_in(folder_ / "Pictures" / "pads", "RIGHT.JPG", 1);
    folder_.file("Pictures/pads/notes.txt", "nothing to see");
    window_.emplace(display_, folder_.path(), std::vector<std::string>{},
                    std::vector<std::string>{"PATH=/nowhere"});
  }

  WindowDriver::Condition shows(const std::string& file) const {
    return [this, file](const json&) { return !window_->rect("row:file:" + file).is_null(); };
  }
  WindowDriver::Condition refused(const std::string& words) const {
    return [this, words](const json&) {
      return window_->text("chooser_refusal").find(words) != std::string::npos;
    };
  }
  // The first keys after a text field was left may still go to it on a slow machine.
  void press_until(const std::string& key, const WindowDriver::Condition& condition) const {
    for (int attempt = 0; attempt < 5; ++attempt) {
      window_->key(key);
      for (int look = 0; look < 60; ++look) {
        if (condition(window_->state())) return;
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
      }
    }
    FAIL() << "pressed in vain: " << key;
  }
  void open_row(const std::string& folder, const std::string& then) {
    window_->click_until("row:file:" + folder, shows(then));
  }

  TemporaryFolder folder_;
  VirtualDisplay display_;
  std::optional<WindowDriver> window_;
};

TEST_F(OwnChooser, OpensPhotosByMouse) {
  window_->click("button:open_photos");
  open_row("Pictures", "pads");
  open_row("pads", "left inner.jpg");
  EXPECT_TRUE(window_->rect("row:file:notes.txt").is_null());
  window_->click_until("row:file:left inner.jpg",
                       [](const json& state) { return state.at("picked") == 1; });
  window_->screenshot(shot("chooser-open"));
  window_->click_until("button:chooser_up", shows("pads"));
  window_->click_until("button:chooser_cancel",
                       [](const json& state) { return state.at("choosing") == false; });
  EXPECT_EQ(window_->state()["screen"], "start");

  window_->click("button:open_photos");  // in the folder it was left in
  open_row("pads", "RIGHT.JPG");
  window_->click_until("row:file:RIGHT.JPG",
                       [](const json& state) { return state.at("picked") == 1; });
  window_->click("button:chooser_done");
  window_->wait_until_measured();
  EXPECT_EQ(window_->state()["photo"]["name"], "RIGHT.JPG");
}

TEST_F(OwnChooser, OpensPhotosByKeys) {
  window_->key("ctrl+o");
  window_->fill("field:chooser_place", (folder_ / "Pictures").string());
  window_->wait_for_rect("row:file:pads");
  press_until("Down", [](const json& state) { return state.at("chooser_row") == "pads"; });
  press_until("Return", shows("left inner.jpg"));  // into the folder
  press_until("Left", shows("pads"));              // out again
  press_until("Right", shows("left inner.jpg"));
  press_until("Down", [](const json& state) { return state.at("picked") == 1; });
  window_->key("Return");
  window_->wait_until_measured();
  EXPECT_EQ(window_->state()["photo"]["name"], "left inner.jpg");
  window_->key("ctrl+o");
  window_->wait_for_rect("button:chooser_done");
  window_->key("Escape");
  window_->wait_for("the closed chooser",
                    [](const json& state) { return state.at("choosing") == false; });
}

TEST_F(OwnChooser, AFolderThatIsNotThereIsSaid) {
  window_->key("ctrl+o");
  window_->fill("field:chooser_place", "/no/such folder");
  window_->wait_for("the refusal", refused("no folder"));
  window_->screenshot(shot("chooser-no-folder"));
  window_->click_until("button:chooser_home", shows("Pictures"));
}

TEST_F(OwnChooser, AsksBeforeItWritesOverAFile) {
  const fs::path card = folder_.file("card-letter.pdf", "mine");
  window_->click("button:sheet_letter");
  window_->wait_for_rect("field:chooser_name");
  EXPECT_EQ(window_->text("field:chooser_name"), "card-letter.pdf");
  window_->click_until("button:chooser_done", refused("is there already"));
  window_->screenshot(shot("chooser-replace"));
  EXPECT_EQ(content(card), "mine");
  window_->fill("field:chooser_name", "card two");  // Enter in the name field saves
  wait_for_file(*window_, folder_ / "card two.pdf");
  EXPECT_EQ(content(card), "mine");
  window_->click("button:sheet_letter");
  window_->click_until("button:chooser_done", refused("is there already"));
  window_->click("button:chooser_done");
  window_->wait_for("the new card",
                    [&](const json&) { return content(card).starts_with("%PDF-"); });
}

}  // namespace
}  // namespace scantling

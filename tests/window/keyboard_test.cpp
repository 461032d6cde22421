// The whole window without a mouse: the controls by Tab, F6 and F10, the dialogs by Enter and Esc;
// and keys that must not reach what is out of sight.
#include <gtest/gtest.h>

#include <filesystem>
#include <optional>

#include "support/run_program.h"
#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

WindowDriver::Condition screen_is(const std::string& name) {
  return [name](const json& state) { return state.at("screen") == name; };
}

WindowDriver::Condition focus_is(const std::string& name) {
  return [name](const json& state) { return state.at("focus") == name; };
}

// Without a dialog program on the PATH, so that files too are chosen in the window.
struct ByKeys : testing::Test {
  void open(std::vector<std::string> arguments = {}) {
    window.emplace(display, folder.path(), std::move(arguments),
                   std::vector<std::string>{"PATH=/nowhere"});
  }
  bool confirmed(const json& state, const std::string& edge) const {
    return state.at("edges").at(edge).at("confirmed_by") != "";
  }

  TemporaryFolder folder;
  VirtualDisplay display;
  std::optional<WindowDriver> window;
};

TEST_F(ByKeys, FromTheFirstScreenToTheReport) {
  fs::create_directories(folder / "pads");
  fs::copy_file(demo_photo(), folder / "pads" / "pad.jpg");
  open();
  window->wait_for_rect("button:new_job");
  window->tab_to("button:new_job");
  window->screenshot(shot("keys-first-screen"));
  window->key("Return");
  window->wait_for("the first field", [&](const json&) {
    return window->text("typing_into") == "field:vehicle_name";
  });
  window->replace("Blue estate");
  window->tab_to("field:odometer");
  window->replace("81250");
  window->tab_to("radio:rear");
  window->screenshot(shot("keys-job-dialog"));
  window->key("space");
  window->tab_to("field:note");
  window->key("Return");  // from a field: the dialog's button
  const json started = window->wait_for("the job", screen_is("job"));
  EXPECT_EQ(started["job"]["vehicle"], "Blue estate");
  EXPECT_EQ(started["job"]["axle"], "rear");
  EXPECT_EQ(started["job"]["odometer_km"], 81250.0);

  window->key("ctrl+o");
  window->wait_for_rect("button:chooser_done");
  window->tab_to("field:chooser_place");
  window->replace((folder / "pads").string());
  window->key("Return");
  window->wait_for_rect("row:file:pad.jpg");
  window->key("Down");
  window->wait_for("the picked photo", [](const json& state) { return state.at("picked") == 1; });
  window->key("Return");
  window->wait_until_measured();

  window->key("Tab");
  const std::string edge = window->wait_for("a selected edge", [](const json& state) {
    return state.at("selected_edge") != "";
  })["selected_edge"];
  window->key("Return");
  window->wait_for("the confirmed edge", [&](const json& state) { return confirmed(state, edge); });

  window->key("F6");
  window->wait_for("the left panel", [](const json& state) { return state.at("focus") != ""; });
  window->tab_to("field:minimum");
  window->replace("2.5");
  window->tab_to("combo:origin");
  window->screenshot(shot("keys-panel"));
  window->wait_for("the minimum",
                   [](const json& state) { return state.at("part").at("minimum_mm") == 2.5; });
  window->key("Return");
  window->wait_for("the open list", [](const json& state) { return state.at("popup") == true; });
  window->key("Down");
  window->wait_for("the second source", focus_is("row:origin:2"));
  window->screenshot(shot("keys-list"));
  window->key("Return");
  window->wait_for("the source", [](const json& state) {
    return state.at("part").at("minimum_origin") == "workshop manual" && state.at("popup") == false;
  });
  window->tab_to("field:reading");
  window->replace("4.85");
  window->tab_to("button:add_reading");
  window->key("Return");
  window->wait_for("the reading",
                   [](const json& state) { return state.at("part").at("readings") == 1; });
  window->key("Escape");
  window->wait_for("the photo's keys",
                   [](const json& state) { return state.at("keys_at") == "page"; });

  window->key("ctrl+p");
  window->wait_for_rect("button:chooser_done");
  window->wait_for("the name field", [&](const json&) {
    return window->text("typing_into") == "field:chooser_name";
  });
  window->replace("all of it");
  window->key("Return");
  window->wait_for("the report", [](const json& state) {
    return state.at("notice").get<std::string>().find("all of it.pdf") != std::string::npos;
  });
  EXPECT_TRUE(fs::exists(folder / "pads" / "all of it.pdf"));
  EXPECT_EQ(window->quit(), 0);
}

TEST_F(ByKeys, TabOnThePhotoLeavesThePanelsFieldsAlone) {
  open({demo_photo().string()});
  window->wait_until_measured();
  const std::string place = window->state()["part"]["place"];
  window->click("pad:left_" + place);
  for (int press = 0; press < 2; ++press) {
    const std::string before = window->state()["selected_edge"];
    window->key("Tab");
    window->wait_for("another edge",
                     [&](const json& state) { return state.at("selected_edge") != before; });
  }
  EXPECT_EQ(window->text("typing_into"), "");
  window->key("n");  // a letter is a command still, not typed into the minimum
  window->wait_for("the answer", [](const json& state) { return state.at("notice") != ""; });
  EXPECT_EQ(window->text("field:minimum"), "");
}

TEST_F(ByKeys, F6GoesRoundThePanelsAndEscComesBack) {
  open({demo_photo().string()});
  window->wait_until_measured();
  window->key("F6");
  window->wait_for("the left panel", focus_is("button:edit_job"));
  window->key("F6");
  window->wait_for("the result", [](const json& state) {
    return state.at("focus").get<std::string>().starts_with("row:");
  });
  window->screenshot(shot("keys-result"));
  window->key("Return");  // the first edge's row
  window->wait_for("the selected edge",
                   [](const json& state) { return state.at("selected_edge") != ""; });
  window->key("shift+F6");
  window->wait_for("the left panel", focus_is("button:edit_job"));
  window->key("shift+F6");
  window->wait_for("the photo", [](const json& state) { return state.at("keys_at") == "page"; });
  EXPECT_EQ(window->state()["focus"], "");
  window->key("shift+F6");
  window->wait_for("the menu bar", focus_is("menu:job"));
  window->key("Escape");
  window->wait_for("the photo", [](const json& state) { return state.at("keys_at") == "page"; });
  // Arrows are the edge's again.
  const std::string edge = window->state()["selected_edge"];
  window->key("Down");
  window->wait_for("the moved edge", [&](const json& state) {
    return state.at("edges").at(edge).at("origin") == "moved";
  });
}

TEST_F(ByKeys, F10OpensTheMenusAndArrowsGoThroughThem) {
  open({demo_photo().string()});
  window->wait_until_measured();
  window->key("F10");
  window->wait_for("the open menu", [](const json& state) { return state.at("popup") == true; });
  window->wait_for_rect("menu:new_job");
  window->wait_for("its first line", focus_is("menu:new_job"));
  window->screenshot(shot("keys-menu"));
  window->key("Escape");
  window->wait_for("the closed menu", [](const json& state) { return state.at("popup") == false; });
  window->key("Escape");
  window->wait_for("the photo", [](const json& state) { return state.at("keys_at") == "page"; });

  window->key("F10");
  window->wait_for("its first line", focus_is("menu:new_job"));
  window->key("Right");
  window->wait_for_rect("menu:settings");  // the menu beside it opens by itself
  for (int press = 0; press < 20 && window->state()["focus"] != "menu:settings"; ++press) {
    const json before = window->state()["focus"];
    window->key("Down");
    window->wait_for("the next line",
                     [&](const json& state) { return state.at("focus") != before; });
  }
  window->key("Return");
  window->wait_for_rect("button:settings_close");
  window->key("Escape");
  window->wait_for("the closed dialog",
                   [](const json& state) { return state.at("dialog") == false; });
  EXPECT_EQ(window->state()["keys_at"], "page");
}

TEST_F(ByKeys, EscClosesTheListFirstAndThenTheDialog) {
  open({demo_photo().string()});  // its car is one to choose from
  window->wait_until_measured();
  window->key("ctrl+n");
  window->wait_for_rect("combo:vehicle");
  window->tab_to("combo:vehicle", true);
  window->key("space");
  window->wait_for("the list", [](const json& state) {
    return state.at("popup") == true && state.at("dialog") == false;
  });
  window->key("Escape");
  window->wait_for("the dialog alone",
                   [](const json& state) { return state.at("dialog") == true; });
  window->key("Escape");
  window->wait_for("no dialog", [](const json& state) { return state.at("popup") == false; });
  window->key("ctrl+n");
  window->wait_for("the first field", [&](const json&) {
    return window->text("typing_into") == "field:vehicle_name";
  });
  window->key("Escape");  // from a field as well
  window->wait_for("no dialog", [](const json& state) { return state.at("popup") == false; });
}

TEST_F(ByKeys, AnEscOnThePhotoClosesNoDialogThatIsOpenedLater) {
  open({demo_photo().string()});
  window->wait_until_measured();
  window->key("Escape");
  window->click("menu:edit");
  window->wait_for_rect("menu:settings");
  window->click("menu:settings");
  window->wait_for("the settings", [](const json& state) { return state.at("dialog") == true; });
  window->hover("radio:inch");
  EXPECT_TRUE(window->state()["dialog"].get<bool>());
  window->click_until("radio:inch", [&](const json&) {
    return window->state()["dialog"] == true && !window->rect("radio:inch").is_null();
  });
  window->key("Return");  // its one button
  window->wait_for("no dialog", [](const json& state) { return state.at("dialog") == false; });
}

TEST_F(ByKeys, OnTheCameraPageTheHiddenPhotoIsSafe) {
  open({demo_photo().string()});
  window->wait_until_measured();
  window->key("Tab");
  const std::string edge = window->wait_for("a selected edge", [](const json& state) {
    return state.at("selected_edge") != "";
  })["selected_edge"];
  const json before = window->state();
  window->click("menu:job");
  window->click_until("menu:camera", screen_is("camera"));
  for (const char* key : {"Return", "Down", "Delete", "r", "n", "ctrl+z"}) window->key(key);
  window->key("ctrl+o");
  window->wait_for_rect("button:chooser_done");
  EXPECT_EQ(window->state()["undo"], "add photo");
  window->key("Escape");
  window->wait_for("no chooser", [](const json& state) { return state.at("choosing") == false; });
  window->key("Escape");
  const json after = window->wait_for("the photo", screen_is("job"));
  EXPECT_EQ(after["undo"], before["undo"]);
  EXPECT_EQ(after["edges"], before["edges"]);
  EXPECT_EQ(after["selected_edge"], edge);
  EXPECT_EQ(after["part"]["photos"], 1);
}

TEST_F(ByKeys, OnTheMapTheHiddenPhotoIsSafe) {
  open({demo_photo().string()});
  window->wait_until_measured();
  const json before = window->state();
  window->key("m");
  window->wait_for("the map", [](const json& state) { return state.at("map") == true; });
  for (const char* key : {"Delete", "r", "Tab"}) window->key(key);
  window->key("m");
  const json after =
      window->wait_for("the photo", [](const json& state) { return state.at("map") == false; });
  EXPECT_EQ(after["part"]["photos"], 1);
  EXPECT_EQ(after["undo"], before["undo"]);
  EXPECT_EQ(after["selected_edge"], "");
  EXPECT_EQ(after["rivals_shown"], false);
}

TEST_F(ByKeys, EnterConfirmsAndThenGoesOnToTheNextPhoto) {
  open({demo_photo().string()});
  window->wait_until_measured();
  window->key("ctrl+o");
  window->wait_for_rect("button:chooser_done");
  window->tab_to("field:chooser_place");
  window->replace(demo_photo(1).string());
  window->key("Return");
  window->wait_for("the other photo", [](const json& state) {
    return state.at("photo").at("name") == demo_photo(1).filename().string();
  });
  window->wait_until_measured();
  window->key("Prior");
  window->wait_for("the first photo", [](const json& state) {
    return state.at("photo").at("name") == demo_photo().filename().string();
  });
  window->wait_until_measured();
  window->key("Next");
  window->wait_for("the second photo", [](const json& state) {
    return state.at("photo").at("name") == demo_photo(1).filename().string();
  });
  window->wait_until_measured();
  window->key("Return");
  window->wait_for("its edges confirmed",
                   [&](const json& state) { return confirmed(state, "friction_outer"); });
  EXPECT_EQ(window->state()["photo"]["name"], demo_photo(1).filename().string());
  window->key("Return");
  const json now = window->wait_for("what is next", [](const json& state) {
    return state.at("photo").at("name") == demo_photo().filename().string() ||
           state.at("notice") == "No edge waits to be confirmed.";
  });
  EXPECT_EQ(now["undo"], "confirm all edges");
}

}  // namespace
}  // namespace scantling

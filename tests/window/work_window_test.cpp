// A job closed in the window: new parts, tightening figures, what was looked at, the next check;
// the refit list as a PDF; undo; the job that comes after.
#include <gtest/gtest.h>

#include <cmath>

#include "record/record.h"
#include "support/run_program.h"
#include "unit/report/sample_report.h"
#include "window/shots.h"
#include "window/stand_in_dialog.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

class WorkPageTest : public testing::Test {
 protected:
  WorkPageTest() : job_(filled()), window_(display_, folder_.path(), {}, dialog_.environment()) {
    window_.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
    window_.click("button:work");
    window_.wait_for("the page", [](const json& state) { return state.at("screen") == "work"; });
  }
  std::int64_t filled() {
    Record record(folder_ / "record.sqlite");
    return add_sample_axle(record, folder_);
  }
  std::optional<WorkDone> work() const { return Record(folder_ / "record.sqlite").work(job_); }
  void wait_until_closed(bool closed) const {
    window_.wait_for(closed ? "a closed job" : "an open job",
                     [=](const json& state) { return state.at("job").at("closed") == closed; });
  }
  void wait_for_undo(const std::string& name) const {
    window_.wait_for("undo of " + name,
                     [&](const json& state) { return state.at("undo") == name; });
  }
  void tick(const std::string& check, const std::string& field) const {
    window_.click("check:" + check);
    window_.wait_for_rect("field:" + field);
  }

  TemporaryFolder folder_;
  StandInDialog dialog_;
  std::int64_t job_;
  VirtualDisplay display_;
  WindowDriver window_;
};

TEST_F(WorkPageTest, KeepsWhatWasDoneAndPrintsTheRefitList) {
  EXPECT_FALSE(work()) << "looking at the page closes nothing";
  window_.screenshot(shot("work-open"));
  tick("fitted:2", "fitted_size:2");
  wait_until_closed(true);
  window_.fill("field:fitted_maker:2", "Hallow");
  window_.fill("field:fitted_size:2", "11.5");
  window_.fill("field:fitted_minimum:2", "2");
  window_.click("button:add_fastener:1");
  window_.wait_for_rect("field:fastener_figure:1");
  window_.click("check:renewed:1");
  window_.fill("field:fastener_count:1", "4");
  window_.fill("field:fastener_figure:1", "tight");
  window_.wait_for("the refusal", [](const json& state) {
    return state.at("work_refusal").get<std::string>().find("tightening stage") !=
           std::string::npos;
  });
  window_.screenshot(shot("work-refused"));
  window_.fill("field:fastener_figure:1", "74 lbf ft, then 90 deg");
  window_.wait_for("no refusal", [](const json& state) { return state.at("work_refusal") == ""; });
  tick("fluid", "fluid");
  window_.fill("field:fluid", "clear");
  tick("slides", "slides");
  window_.scroll_to("field:work_note", "check:slides");
  window_.fill("field:bedding_in", "300");
  window_.fill("field:work_next_km", "95000");
  window_.fill("field:work_next_date", "2027-11-21");
  window_.hover("field:work_note");
  window_.screenshot(shot("work-done"));

  const WorkDone done = work().value();
  ASSERT_EQ(done.parts.size(), 1u);
  EXPECT_EQ(done.parts[0].new_size_mm, 11.5);
  EXPECT_EQ(done.parts[0].maker, "Hallow");
  ASSERT_EQ(done.fasteners.size(), 1u);
  EXPECT_TRUE(done.fasteners[0].renewed);
  EXPECT_EQ(done.fasteners[0].count, 4);
  ASSERT_EQ(done.fasteners[0].tightening.stages.size(), 2u);
  EXPECT_EQ(done.fluid, "clear");
  EXPECT_TRUE(done.slides_looked_at);
  EXPECT_EQ(done.bedding_in_km, 300.0);
  EXPECT_EQ(done.next_check_km, 95000.0);
  EXPECT_EQ(done.next_check_date, "2027-11-21");

  const fs::path pdf = folder_ / "refit list.pdf";
  dialog_.answer(pdf.string() + "\n");
  window_.click("button:refit_pdf");
  window_.wait_for("the list", [&](const json&) { return fs::exists(pdf); });
  const std::string text = run_program({"pdftotext", "-layout", pdf.string(), "-"}).output;
  EXPECT_NE(text.find("1: 74 lbf ft (100.3 N m); 2: 90 degrees further"), std::string::npos);
  EXPECT_NE(text.find("Hallow"), std::string::npos);

  window_.key("Escape");
  window_.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
  window_.key("ctrl+z");
  window_.wait_for("the page again",
                   [](const json& state) { return state.at("screen") == "work"; });
  EXPECT_EQ(window_.text("field:work_next_date"), "");
  EXPECT_EQ(work()->next_check_date, "");
}

TEST_F(WorkPageTest, ClosesAsItStandsAndGoesOnWithTheNextJob) {
  window_.click("button:close_with_work");
  wait_until_closed(true);
  wait_for_undo("close the job");
  EXPECT_EQ(work()->odometer_km, 81250.0);
  window_.click("button:reopen");
  wait_until_closed(false);
  EXPECT_FALSE(work());
  window_.key("ctrl+z");
  wait_until_closed(true);
  window_.click("button:next_job");
  window_.wait_for_rect("button:job_done");
  window_.fill("field:date", "2027-11-25");
  window_.fill("field:odometer", "95100");
  window_.screenshot(shot("next-job"));
  window_.click("button:job_done");
  const json now = window_.wait_for("the next job", [&](const json& state) {
    return state.at("job").at("id") != job_ && state.at("screen") == "job";
  });
  EXPECT_EQ(now.at("job").at("odometer_km"), 95100.0);
  EXPECT_EQ(now.at("job").at("axle"), "front");
  Record record(folder_ / "record.sqlite");
  EXPECT_EQ(record.parts(now.at("job").at("id")).size(), 4u);
}

}  // namespace
}  // namespace scantling

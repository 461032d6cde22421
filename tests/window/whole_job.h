#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "support/temporary_folder.h"
#include "window/stand_in_dialog.h"
#include "window/window_driver.h"

namespace scantling {

/// How the window looks in a run.
struct Look {
  int dots_per_inch = 96;
  DisplaySize size;
  bool light = false;

  std::string name() const;  ///< "1280x800-1x-dark"
};

/// From an empty record to a decided, reported axle of the demo's photos, by mouse and keyboard as
/// its owner would: job, guide, photos, sorting, sheet, minima, edges, a hand reading, verdicts,
/// work, report. A picture is kept of every step.
class WholeJob {
 public:
  /// `sudden_ends`: after each step the program is killed and started again, and must show what it
  /// showed. @throws std::runtime_error where it does not.
  explicit WholeJob(const Look& look, bool sudden_ends = false);

  void run();
  const WindowDriver& window() const { return *window_; }
  const std::filesystem::path& report() const { return report_; }
  const std::filesystem::path& shots() const { return shots_; }

 private:
  void start();
  void keep(const std::string& step);
  void kill_and_return(const std::string& step);
  void start_job();
  void read_the_guide();
  void drop_photos();
  void take_photos();
  void check_the_sheet();
  void enter_minima();
  void confirm_edges();
  void look_at_a_photo();
  void read_by_hand();
  void ask_why();
  void see_the_axle();
  void note_the_work();
  void write_report();

  TemporaryFolder home_;
  StandInDialog dialog_;
  VirtualDisplay display_;
  Look look_;
  bool sudden_ends_;
  std::filesystem::path shots_, report_;
  int step_ = 0;
  std::optional<WindowDriver> window_;
};

}  // namespace scantling

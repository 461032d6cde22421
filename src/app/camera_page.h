#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "camera/camera_calibration.h"
#include "camera/camera_shelf.h"

namespace scantling {

/// What the camera page knows: the photos of the sheet and what they have come to. The calibration
/// itself is touched by the worker's tasks only, which run one after another.
class CameraPage {
 public:
  bool open() const { return open_; }
  void show() { open_ = true; }
  void hide() { open_ = false; }

  const CalibrationProgress& progress() const { return progress_; }
  /// Work for the worker: each returns what to take over on the main thread.
  using Task = std::function<CalibrationProgress()>;
  Task looking_at(const std::filesystem::path& photo);
  Task removing(std::size_t index);
  Task clearing();
  void take(CalibrationProgress progress) { progress_ = std::move(progress); }

  /// Where the accepted profile was kept, empty before.
  const std::filesystem::path& saved_as() const { return saved_as_; }
  /// Keeps the accepted profile among the user's. @throws UnwritableFile
  void save();

 private:
  bool open_ = false;
  std::shared_ptr<CameraCalibration> calibration_ =
      std::make_shared<CameraCalibration>(calendar_date());
  CalibrationProgress progress_;
  std::filesystem::path saved_as_;
};

}  // namespace scantling

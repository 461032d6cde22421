#include "app/camera_page.h"

#include "base/save_file.h"
#include "camera/camera_profile_file.h"
#include "photo/photo.h"

namespace scantling {
namespace fs = std::filesystem;

CameraPage::Task CameraPage::looking_at(const fs::path& photo) {
  saved_as_.clear();
  return [calibration = calibration_, photo] {
    calibration->add(look_at_calibration_photo(load_photo(photo), photo.filename().string()));
    return calibration->progress();
  };
}

CameraPage::Task CameraPage::removing(std::size_t index) {
  saved_as_.clear();
  return [calibration = calibration_, index] {
    calibration->remove(index);
    return calibration->progress();
  };
}

CameraPage::Task CameraPage::clearing() {
  saved_as_.clear();
  return [calibration = calibration_] {
    calibration->clear();
    return calibration->progress();
  };
}

void CameraPage::save() {
  if (!progress_.accepted) return;
  const fs::path folder = camera_folder();
  std::error_code fault;
  fs::create_directories(folder, fault);
  if (fault)
    throw UnwritableFile("Cannot make the folder \"" + folder.string() + "\": " + fault.message() +
                         ". Check its place and your rights to it.");
  const fs::path file = folder / profile_file_name(progress_.profile->camera);
  save_file(file, profile_to_text(*progress_.profile));
  saved_as_ = file;
}

}  // namespace scantling

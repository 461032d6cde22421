#include "accuracy/drawings.h"

#include <fstream>
#include <iterator>
#include <opencv2/core/mat.hpp>
#include <vector>

#include "support/drawn_file.h"

namespace scantling::accuracy {

Photo Drawings::photo(const std::string& name, const drawn::DrawnCamera& camera,
                      const std::function<cv::Mat()>& draw) const {
  if (folder.empty()) return drawn::as_photo(camera, draw());
  const std::filesystem::path file = folder / (name + ".jpg");
  if (std::ifstream kept(file, std::ios::binary); kept)
    return drawn::as_photo(camera,
                           std::vector<unsigned char>(std::istreambuf_iterator<char>(kept), {}));
  const std::vector<unsigned char> jpeg = drawn::upright_jpeg(camera, draw());
  std::filesystem::create_directories(folder);
  std::ofstream stream(file, std::ios::binary);
  stream.write(reinterpret_cast<const char*>(jpeg.data()),
               static_cast<std::streamsize>(jpeg.size()));
  return drawn::as_photo(camera, jpeg);
}

}  // namespace scantling::accuracy

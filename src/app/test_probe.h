#pragma once

#include <filesystem>
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "app/view_transform.h"

namespace scantling {

/// Tells a test where things lie in the window and how the job stands. Where the environment
/// variable SCANTLING_PROBE names a file, the probe writes JSON into it whenever something changes:
/// {"frame": n, "rects": {"name": [x, y, width, height]}, "texts": {"name": "..."}, "state":
/// {...}}. Else it does nothing.
class TestProbe {
 public:
  TestProbe();

  bool on() const { return !file_.empty(); }
  void begin_frame();
  void place(const std::string& name, const ScreenRect& rect);
  void tell(const std::string& name, const std::string& text);
  void end_frame(const nlohmann::ordered_json& state);

 private:
  std::filesystem::path file_;
  std::map<std::string, ScreenRect> rects_;
  std::map<std::string, std::string> texts_;
  long frame_ = 0;
  std::string written_;
};

}  // namespace scantling

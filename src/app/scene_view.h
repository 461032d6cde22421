#pragma once

#include <vector>

#include "app/view_transform.h"
#include "planes/planes_result.h"

namespace scantling {

/// Where the planes' scene is looked at from: on an orbit round its middle, in perspective. The
/// world is that of the planes: x right and y down on the ground sheet, z into it. Turned by
/// nothing one stands at the sheet's lower edge, x to the right.
class SceneView {
 public:
  static constexpr double kLowest_deg = -25, kHighest_deg = 89;

  void reset();
  /// Where `reset` goes back to; followed at once as long as nobody has turned the scene.
  void set_home(double turned_deg);
  /// What is looked at; how it is turned stays.
  void look_at(const World3& middle, double radius_mm);
  /// Makes zoom 1 show all these places within the area, as seen from home.
  void fit(const std::vector<World3>& places, const ScreenRect& area);
  /// Turns the scene under the viewer: to the right, and its near side down.
  void turn(double right_deg, double down_deg);
  void zoom_by(double factor);

  struct Seen {
    ScreenPoint at;
    double distance_mm = 0;  ///< along the view; what lies further is drawn first
  };
  Seen seen(const World3& place, const ScreenRect& area) const;

  double turned_deg() const { return turned_deg_; }        ///< 0 to 360
  double elevation_deg() const { return elevation_deg_; }  ///< over the sheet
  double zoom() const { return zoom_; }                    ///< 1: the whole scene fits

 private:
  World3 middle_{};
  double radius_mm_ = 200;
  double fit_ = 1;
  double home_deg_ = 30;
  bool touched_ = false;
  double turned_deg_ = 30;
  double elevation_deg_ = 28;
  double zoom_ = 1;
};

}  // namespace scantling

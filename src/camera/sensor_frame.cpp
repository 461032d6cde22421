#include "camera/sensor_frame.h"

#include "photo/orientation.h"

namespace scantling {

SensorFromUpright sensor_from_upright(PictureSize upright, int orientation) {
  const double w = upright.width_px - 1, h = upright.height_px - 1;
  SensorFromUpright frame;
  frame.sensor =
      swaps_sides(orientation) ? PictureSize{upright.height_px, upright.width_px} : upright;
  // The inverse of the turn that makes the stored rows and columns upright.
  switch (orientation) {
    case 2:
      frame.turn << -1, 0, 0, 1;
      frame.shift << w, 0;
      break;
    case 3:
      frame.turn << -1, 0, 0, -1;
      frame.shift << w, h;
      break;
    case 4:
      frame.turn << 1, 0, 0, -1;
      frame.shift << 0, h;
      break;
    case 5:
      frame.turn << 0, 1, 1, 0;
      break;
    case 6:  // the stored top is the upright right side
      frame.turn << 0, 1, -1, 0;
      frame.shift << 0, w;
      break;
    case 7:
      frame.turn << 0, -1, -1, 0;
      frame.shift << h, w;
      break;
    case 8:  // the stored top is the upright left side
      frame.turn << 0, -1, 1, 0;
      frame.shift << h, 0;
      break;
    default:
      break;
  }
  return frame;
}

bool orientation_mirrors(int orientation) {
  return orientation == 2 || orientation == 4 || orientation == 5 || orientation == 7;
}

}  // namespace scantling

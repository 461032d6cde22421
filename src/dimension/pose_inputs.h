#pragma once

#include <functional>

#include "camera/card_pose.h"
#include "uncertainty/size_chain.h"

namespace scantling {

/// What a pose's covariance does to a size, the print's aspect told apart.
struct PoseShare {
  double corners_mm = 0;  ///< corners, focal length, lens, with the print's aspect held
  double aspect_mm = 0;   ///< what the unknown aspect of the print adds
};

/// Both as the covariance is, and as it would be with a better input.
struct PoseShares {
  PoseShare now;
  PoseShare scale_checked;  ///< where the print's scale is known as `kCheckedScale_u`
  PoseShare lens_known;     ///< where a profile of the camera serves
};

/// `size` at a pose of other parameters; sensitivities by central differences. `prior`: of the
/// camera, as the pose was solved with it; `scale_u`: of the print in each direction.
PoseShares pose_shares(const CardPose& pose, const CameraPrior& prior, double scale_u,
                       const std::function<double(const CardPose&)>& size);

/// A pose's parameters as independent inputs of a size chain: the print's aspect, which counts to
/// the sheet's scale, and the rest with the aspect held, by a factor of its covariance.
class PoseInputs {
 public:
  PoseInputs(const CardPose& pose, SizeChain::Source aspect, SizeChain::Source corners,
             SizeChain& chain);

  /// The pose as the drawn inputs make it.
  CardPose at(std::span<const double> x) const;

 private:
  CardPose::Vector mean_;
  CardPose::Vector per_aspect_;  ///< how the parameters follow the aspect
  CardPose::Matrix factor_;
  std::size_t aspect_input_ = 0;
  std::size_t first_input_ = 0;
};

}  // namespace scantling

#include "edges/edge_bend.h"

#include <Eigen/Dense>
#include <cmath>

namespace scantling {

std::optional<EdgeBend> edge_bend(const EdgeFit& edge) {
  constexpr double kSomethingElse_mm = 1;
  constexpr int kLeastBlocks = 5;
  if (!edge.valid) return std::nullopt;
  std::vector<double> along, off;
  for (std::size_t i = 0; i < edge.along_mm.size(); ++i) {
    const double from_line = edge.across_mm[i] - edge.at(edge.along_mm[i]);
    if (std::abs(from_line) > kSomethingElse_mm) continue;
    along.push_back(edge.along_mm[i]);
    off.push_back(from_line);
  }
  const auto count = static_cast<Eigen::Index>(along.size());
  if (count < kLeastBlocks) return std::nullopt;
  const Eigen::Map<const Eigen::VectorXd> x(along.data(), count), y(off.data(), count);
  const Eigen::VectorXd from_middle = x.array() - x.mean();
  Eigen::MatrixX3d design(count, 3);
  design << Eigen::VectorXd::Ones(count), from_middle, from_middle.array().square().matrix();
  const Eigen::Matrix3d normal = design.transpose() * design;
  const Eigen::LLT<Eigen::Matrix3d> solver(normal);
  if (solver.info() != Eigen::Success) return std::nullopt;
  const Eigen::Vector3d parabola = solver.solve(design.transpose() * y);
  const double squares = (y - design * parabola).squaredNorm();
  const double variance = squares / static_cast<double>(std::max<Eigen::Index>(1, count - 3));
  const double inverse = solver.solve(Eigen::Vector3d::UnitZ()).z();
  return EdgeBend{parabola[2], std::sqrt(variance * inverse)};
}

}  // namespace scantling

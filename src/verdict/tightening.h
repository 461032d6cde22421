#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace scantling {

/// One pound-force foot in newton metres, exactly: 0.3048 m x 0.453 592 37 kg x 9.806 65 m/s2
/// (NIST SP 811 B.8 prints 1.355 818).
inline constexpr double kNewtonMetresInPoundForceFoot = 0.3048 * 0.45359237 * 9.80665;

enum class TighteningUnit { newton_metre, pound_force_foot, degree };

struct TighteningStage {
  double value = 0;
  TighteningUnit unit = TighteningUnit::newton_metre;
};

/// A maker's tightening figure in stages, as the user entered it.
struct Tightening {
  std::string as_typed;
  std::vector<TighteningStage> stages;
};

struct TighteningText {
  Tightening tightening;
  std::string problem;  ///< one sentence where the text cannot be read
};

/// Reads "35 N m", "26 lbf ft, then 90 deg", "30 Nm + 60° + 60°". Stages are kept in order: torque
/// first, then angles or further torques.
TighteningText tightening_from_text(std::string_view text);

double newton_metres(const TighteningStage& stage);  ///< of a torque; 0 for an angle

/// "1: 35 N m (25.8 lbf ft); 2: 90 degrees further".
std::string tightening_words(const Tightening& tightening);

}  // namespace scantling

#pragma once

namespace scantling {

enum class Axle { front, rear };
enum class PartKind { pad, disc };
enum class Side { left, right };
enum class PadPlace { inner, outer };

}  // namespace scantling

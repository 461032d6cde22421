#pragma once

#include <array>
#include <filesystem>
#include <iosfwd>
#include <vector>

#include "made_camera.h"
#include "made_scene.h"

namespace scantling::made {

/// Triangles in the world frame, mm.
struct Mesh {
  std::vector<Vec3> points;
  std::vector<std::array<int, 3>> triangles;

  int add(const Vec3& point);
  void quad(int a, int b, int c, int d);
  void append(const Mesh& other);
};

/// The card's sheet as it stands in the world: printed scale, lean and curl applied.
class CardPlace {
 public:
  explicit CardPlace(const Scene& scene);
  /// From nominal card coordinates (mm as designed; z into the card) to the world.
  Vec3 world(double x, double y, double z = 0) const;

 private:
  CardSettings card_;
};

/// The notch card cut along its lines: ink and paper apart, drawn from its definition.
struct CardMesh {
  Mesh ink;
  Mesh paper;
};

/// @param definition calibration/cards/notch_card.json
CardMesh card_mesh(const Scene& scene, const std::filesystem::path& definition);

/// The pad in its own frame: u along the edge that faces the camera (0 in the pad's middle),
/// v from the plate's outer face through the thickness, w from the plate's side face inwards.
class PadShape {
 public:
  explicit PadShape(const Scene& scene);

  Vec3 world(double u, double v, double w) const;
  /// Along the edge: the u that lies at a world position (the component along the edge counts).
  double u_of(const Vec3& world_mm) const;
  double friction_mm(double u) const;
  double plate_mm() const { return part_.plate.thickness_mm; }
  double overall_mm(double u) const { return plate_mm() + friction_mm(u); }
  /// How far the curved edge falls back at u.
  double edge_depth_mm(double u) const;
  bool upright() const { return part_.pose.rfind("standing", 0) == 0; }

 private:
  PartSettings part_;
  Vec3 origin_, along_, through_, inwards_;
};

struct PadMesh {
  Mesh plate;
  Mesh friction;
};

PadMesh pad_mesh(const Scene& scene);

/// Writes `mesh2 { ... }` without textures, in POV-Ray's frame (x, -y, z).
void write_mesh(std::ostream& out, const Mesh& mesh);

}  // namespace scantling::made

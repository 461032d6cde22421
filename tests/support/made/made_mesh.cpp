#include "made_mesh.h"

#include <iomanip>
#include <ostream>

namespace scantling::made {

int Mesh::add(const Vec3& point) {
  points.push_back(point);
  return static_cast<int>(points.size()) - 1;
}

void Mesh::quad(int a, int b, int c, int d) {
  triangles.push_back({a, b, c});
  triangles.push_back({a, c, d});
}

void Mesh::append(const Mesh& other) {
  const int first = static_cast<int>(points.size());
  points.insert(points.end(), other.points.begin(), other.points.end());
  for (const auto& t : other.triangles) {
    triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
  }
}

void write_mesh(std::ostream& out, const Mesh& mesh) {
  out << std::setprecision(12) << "mesh2 { vertex_vectors { " << mesh.points.size();
  for (const auto& p : mesh.points) {
    out << ",\n<" << p.x() << ',' << -p.y() << ',' << p.z() << '>';
  }
  out << " }\nface_indices { " << mesh.triangles.size();
  for (const auto& t : mesh.triangles) {
    out << ",\n<" << t[0] << ',' << t[1] << ',' << t[2] << '>';
  }
  out << " }\n}\n";
}

}  // namespace scantling::made

#include "made_povray.h"

#include <fstream>
#include <iomanip>
#include <stdexcept>

#include "made_camera.h"
#include "made_mesh.h"

namespace scantling::made {

std::string picture_suffix(bool depth, bool coarse) {
  return std::string(depth ? "_depth" : "_light") + (coarse ? "_coarse" : "_fine");
}

namespace {

std::ofstream open(const std::filesystem::path& file) {
  std::ofstream out(file);
  if (!out) throw std::runtime_error("cannot write " + file.string());
  out << std::setprecision(15);
  return out;
}

/// POV-Ray's y points up: the same world, not its mirror image.
std::string vector_text(const Vec3& v) {
  std::ostringstream text;
  text << std::setprecision(15) << '<' << v.x() << ", " << -v.y() << ", " << v.z() << '>';
  return text.str();
}

void declare(std::ostream& out, const char* name, const std::string& text) {
  out << "#declare " << name << " = \"" << text << "\";\n";
}
void declare(std::ostream& out, const char* name, double value) {
  out << "#declare " << name << " = " << value << ";\n";
}

void write_camera(std::ostream& out, const Camera& camera, const RenderFrame& frame) {
  const Vec3 right = camera.camera_from_world().row(0);
  const Vec3 down = camera.camera_from_world().row(1);
  const Vec3 forward = camera.camera_from_world().row(2);
  out << "#declare Camera_At = " << vector_text(camera.position_mm()) << ";\n"
      << "#declare Camera_X = " << vector_text(right) << ";\n"
      << "#declare Camera_Y = " << vector_text(-down) << ";\n"
      << "#declare Camera_Z = " << vector_text(forward) << ";\n"
      << "camera { perspective location Camera_At direction Camera_Z right Camera_X * "
      << frame.width_px / frame.focal_px << " up Camera_Y * " << frame.height_px / frame.focal_px
      << " }\n";
}

void write_choices(std::ostream& out, const Scene& scene) {
  declare(out, "Depth_Range", kDepthRange_mm);
  declare(out, "Light_Kind", scene.light.kind);
  declare(out, "Light_Azimuth", scene.light.azimuth_deg);
  declare(out, "Light_Elevation", scene.light.elevation_deg);
  declare(out, "Light_Strength", scene.light.strength);
  declare(out, "Card_Present", scene.card.present);
  declare(out, "Card_Paper", scene.card.paper);
  declare(out, "Card_Ink", scene.card.ink);
  declare(out, "Card_Grease", scene.card.grease);
  declare(out, "Part_Present", scene.part.present);
  declare(out, "Plate_Finish", scene.part.plate.finish);
  declare(out, "Friction_Finish", scene.part.friction.finish);
  declare(out, "Table_Kind", scene.place.table);
  declare(out, "Table_Y", -78 * scene.card.scale_y);
  declare(out, "Table_Front", scene.place.table_front_mm);
  declare(out, "Background_Kind", scene.place.background);
  declare(out, "Occluder_Kind", scene.place.occluder);
  const auto& at = scene.place.occluder_mm;
  out << "#declare Occluder_At = " << vector_text({at[0], at[1], at[2]}) << ";\n";
}

struct Pass {
  bool depth = false;
  bool coarse = false;
};

void write_settings(const std::filesystem::path& folder, const std::string& name, Pass pass,
                    const RenderFrame& frame, int samples,
                    const std::filesystem::path& include_folder) {
  const std::string output = name + picture_suffix(pass.depth, pass.coarse);
  auto out = open(folder / (output + ".ini"));
  const int step = pass.coarse ? RenderFrame::kCoarse : 1;
  out << "Input_File_Name=\"" << name << ".pov\"\nOutput_File_Name=\"" << output << ".png\"\n"
      << "Library_Path=\"" << std::filesystem::absolute(include_folder).string() << "\"\n"
      << "Width=" << frame.width_px / step << "\nHeight=" << frame.height_px / step << '\n'
      << "Output_File_Type=N\nBits_Per_Color=16\nFile_Gamma=1.0\nDisplay=Off\nVerbose=Off\n"
      << "Quality=9\nDeclare=Depth_Pass=" << (pass.depth ? 1 : 0) << '\n';
  if (!pass.coarse) {  // counted from 1
    out << "Start_Column=" << frame.left_px + 1 << "\nEnd_Column=" << frame.right_px + 1
        << "\nStart_Row=" << frame.top_px + 1 << "\nEnd_Row=" << frame.bottom_px + 1 << '\n';
  }
  if (pass.depth) {
    out << "Antialias=Off\n";
  } else {
    // A regular grid of samples would shift edges by up to half its step: hence the jitter.
    out << "Antialias=On\nSampling_Method=1\nAntialias_Threshold=" << (pass.coarse ? 0.25 : 0.06)
        << "\nAntialias_Depth=" << (pass.coarse ? 2 : samples)
        << "\nAntialias_Gamma=2.2\nJitter=On\nJitter_Amount=1.0\n";
  }
}

}  // namespace

void write_povray_scene(const Scene& scene, const std::filesystem::path& card,
                        const std::filesystem::path& include_folder,
                        const std::filesystem::path& folder) {
  const Camera camera(scene);
  const auto frame = render_frame(scene, camera);
  std::filesystem::create_directories(folder);
  {
    auto out = open(folder / (scene.name + ".pov"));
    out << "#version 3.7;\n";
    write_camera(out, camera, frame);
    write_choices(out, scene);
    const auto mesh = [&](const char* name, const Mesh& m) {
      out << "#declare " << name << " = ";
      write_mesh(out, m);
    };
    const auto notch_card = card_mesh(scene, card);
    mesh("Card_Ink_Mesh", notch_card.ink);
    mesh("Card_Paper_Mesh", notch_card.paper);
    const auto pad = pad_mesh(scene);
    mesh("Plate_Mesh", pad.plate);
    mesh("Friction_Mesh", pad.friction);
    out << "#include \"pad_scene.inc\"\n";
    if (!out.flush()) throw std::runtime_error("cannot write the scene " + scene.name);
  }
  for (const bool depth : {false, true}) {
    for (const bool coarse : {true, false}) {
      write_settings(folder, scene.name, {depth, coarse}, frame, scene.samples, include_folder);
    }
  }
}

}  // namespace scantling::made

#include "made_povray.h"

#include <fstream>
#include <iomanip>
#include <stdexcept>

#include "made_camera.h"
#include "made_mesh.h"
#include "made_placement.h"

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
  declare(out, "Part_Present", shows_pad(scene));
  declare(out, "Disc_Present", shows_disc(scene));
  declare(out, "Disc_Rust", scene.disc.rust);
  declare(out, "Disc_Hole", scene.disc.hole_mm);
  declare(out, "Disc_Slots", scene.disc.slots);
  declare(out, "Wall_Foot", wall_foot_radius_mm(scene.disc));
  declare(out, "Track_Width", scene.disc.track_width_mm);
  declare(out, "Wet", scene.place.wet);
  declare(out, "Wall_Top", wall_top_radius_mm(scene.disc));
  declare(out, "Pad_View", scene.view == "pad");
  declare(out, "Chocks", scene.view == "faces");
  declare(out, "Strips", scene.view == "rim" && scene.disc.raise_mm > 0);
  declare(out, "Raise", scene.disc.raise_mm);
  declare(out, "Plate_Finish", scene.part.plate.finish);
  declare(out, "Friction_Finish", scene.part.friction.finish);
  declare(out, "Table_Kind", scene.place.table);
  declare(out, "Table_Y", -ground_mm(scene));
  declare(out, "Table_Front", scene.place.table_front_mm);
  declare(out, "Background_Kind", scene.place.background);
  declare(out, "Occluder_Kind", scene.place.occluder);
  const auto& at = scene.place.occluder_mm;
  out << "#declare Occluder_At = " << vector_text({at[0], at[1], at[2]}) << ";\n";
}

CardMesh printed_sheets(const Scene& scene, const std::filesystem::path& cards) {
  if (scene.view == "pad") return card_mesh(scene, cards / "notch_card.json");
  CardMesh all;
  for (const PlacedSheet& sheet : sheets_of(scene)) {
    const CardMesh one = sheet_mesh(sheet, cards);
    all.ink.append(one.ink);
    all.paper.append(one.paper);
  }
  return all;
}

PadMesh placed_pad(const Scene& scene) {
  PadMesh pad = pad_mesh(scene);
  if (scene.view == "pad") return pad;
  const Placed place = pad_place(scene);
  for (Mesh* mesh : {&pad.plate, &pad.friction})
    for (Vec3& point : mesh->points) point = place.world(point);
  return pad;
}

void write_aim(std::ostream& out, const Scene& scene) {
  const auto& at = scene.camera.look_mm;
  out << "#declare Aim = " << vector_text({at[0], at[1], at[2]}) << ";\n";
}

/// In the disc's own frame, so that its textures run round its axis.
void write_disc(std::ostream& out, const Scene& scene) {
  const Placed place = disc_place(scene);
  const DiscMesh mesh = disc_mesh(scene.disc);
  for (const auto& [name, part] :
       {std::pair<const char*, const Mesh*>{"Disc_Track_Mesh", &mesh.track},
        {"Disc_Lip_Mesh", &mesh.lip},
        {"Disc_Rim_Mesh", &mesh.rim},
        {"Disc_Bell_Mesh", &mesh.bell},
        {"Disc_Dark_Mesh", &mesh.dark}}) {
    out << "#declare " << name << " = ";
    write_mesh(out, *part);
  }
  // Rows: where the own axes go, in the renderer's frame with its y turned up.
  out << "#declare Disc_Place = transform { matrix <";
  for (int axis = 0; axis < 3; ++axis) {
    const Vec3 a = (axis == 1 ? -1.0 : 1.0) * place.axes.col(axis);
    out << a.x() << ',' << -a.y() << ',' << a.z() << ',';
  }
  out << place.origin.x() << ',' << -place.origin.y() << ',' << place.origin.z() << "> };\n";
}

struct Pass {
  bool depth = false;
  bool coarse = false;
};

void write_settings(const std::filesystem::path& folder, const std::string& name, Pass pass,
                    const RenderFrame& frame, int samples, double threshold,
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
    out << "Antialias=On\nSampling_Method=1\nAntialias_Threshold="
        << (pass.coarse ? 0.25 : threshold) << "\nAntialias_Depth=" << (pass.coarse ? 2 : samples)
        << "\nAntialias_Gamma=2.2\nJitter=On\nJitter_Amount=1.0\n";
  }
}

}  // namespace

void write_povray_scene(const Scene& scene, const std::filesystem::path& cards,
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
    const auto sheets = printed_sheets(scene, cards);
    mesh("Card_Ink_Mesh", sheets.ink);
    mesh("Card_Paper_Mesh", sheets.paper);
    if (shows_pad(scene)) {
      const auto pad = placed_pad(scene);
      mesh("Plate_Mesh", pad.plate);
      mesh("Friction_Mesh", pad.friction);
    }
    if (scene.view != "pad") write_aim(out, scene);
    if (shows_disc(scene)) write_disc(out, scene);
    out << "#include \"pad_scene.inc\"\n";
    if (!out.flush()) throw std::runtime_error("cannot write the scene " + scene.name);
  }
  for (const bool depth : {false, true}) {
    for (const bool coarse : {true, false}) {
      if (depth && !coarse && scene.view != "pad") continue;  // its flat things blur slowly
      write_settings(folder, scene.name, {depth, coarse}, frame, scene.samples,
                     scene.view == "pad" ? 0.06 : 0.2, include_folder);
    }
  }
}

}  // namespace scantling::made

// Writes the photos that must be refused, for looking at: make_bad_photos FOLDER

#include <filesystem>
#include <fstream>
#include <iostream>

#include "support/bad_photos.h"

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "use: make_bad_photos FOLDER\n";
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::filesystem::create_directories(folder);
  for (const auto& photo : scantling::test::bad_photos()) {
    const auto bytes = photo.jpeg();
    std::ofstream file(folder / (std::string(photo.name) + ".jpg"), std::ios::binary);
    file.write(reinterpret_cast<const char*>(bytes.data()),
               static_cast<std::streamsize>(bytes.size()));
    if (!file) {
      std::cerr << "cannot write into " << folder << '\n';
      return 1;
    }
    std::cout << photo.name << ".jpg  as " << photo.view << ": " << photo.id << '\n';
  }
}

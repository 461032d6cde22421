// Walks through a whole job in the real window and keeps a picture of every step:
//
//   walk_whole_job WIDTHxHEIGHT [1|2] [dark|light]
//
// Prints the folder of the pictures.
#include <cstdio>
#include <cstring>
#include <exception>

#include "window/whole_job.h"

int main(int argc, char** argv) {
  scantling::Look look;
  if (argc < 2 || std::sscanf(argv[1], "%dx%d", &look.size.width_px, &look.size.height_px) != 2) {
    std::fputs("Usage: walk_whole_job WIDTHxHEIGHT [1|2] [dark|light]\n", stderr);
    return 2;
  }
  if (argc > 2 && std::strcmp(argv[2], "2") == 0) look.dots_per_inch = 192;
  look.light = argc > 3 && std::strcmp(argv[3], "light") == 0;
  try {
    scantling::WholeJob job(look);
    job.run();
    std::printf("%s\n", job.shots().c_str());
  } catch (const std::exception& error) {
    std::fprintf(stderr, "walk_whole_job: %s\n", error.what());
    return 1;
  }
  return 0;
}

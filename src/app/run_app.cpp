#include "app/run_app.h"

#include <cstdio>

namespace scantling {

int run_app(const AppOptions&) {
  std::fputs("scantling: no display. Use a subcommand; scantling --help lists them.\n", stderr);
  return 1;
}

}  // namespace scantling

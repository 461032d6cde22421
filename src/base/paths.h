#pragma once

#include <filesystem>

namespace scantling {

/// The user's folders by the XDG base directory specification 0.8; a relative value in the
/// environment is ignored, as it asks. Nothing is created here.
std::filesystem::path user_data_folder();   ///< $XDG_DATA_HOME/scantling
std::filesystem::path user_state_folder();  ///< $XDG_STATE_HOME/scantling

/// The project's assets (demo job, sheets): $SCANTLING_ASSETS, ../share/scantling beside the program,
/// or the source tree it was built from, whichever exists first; empty where none does.
std::filesystem::path assets_folder();

}  // namespace scantling

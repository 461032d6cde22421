#pragma once

#include <SQLiteCpp/Exception.h>

#include <filesystem>
#include <string>

#include "record/record_error.h"

namespace scantling {

/// The sentence for a database error: what failed, why, what to do next. `doing` completes "could
/// not ...", such as "save the reading".
std::string database_sentence(const SQLite::Exception& error, const std::filesystem::path& path,
                              const char* doing);

/// Whether the error says that the file's own content is damaged.
bool is_damage(const SQLite::Exception& error);

/// Runs `work`; a database error leaves it as a RecordError.
template <class Function>
auto with_sentences(const std::filesystem::path& path, const char* doing, Function&& work) {
  try {
    return work();
  } catch (const SQLite::Exception& error) {
    const std::string sentence = database_sentence(error, path, doing);
    if (is_damage(error)) throw DamagedRecord(sentence);
    throw RecordError(sentence);
  }
}

}  // namespace scantling

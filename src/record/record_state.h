#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <cstdint>
#include <filesystem>
#include <optional>
#include <type_traits>

#include "record/photo_store.h"
#include "record/record.h"
#include "record/rows.h"
#include "record/trouble.h"
#include "record/words.h"

namespace scantling {

struct Record::State {
  std::filesystem::path path;
  SQLite::Database database;
  PhotoStore store;
  StatementShelf shelf = {};
  std::optional<std::int64_t> data_version = {};  ///< as seen last, see changed_elsewhere()
  int changes_deep = 0;  ///< inside as_one_change(), which may nest: what happens belongs to it

  /// Runs `work` in one transaction, taken for writing at once so that it cannot fail half-way for
  /// another program's sake; an exception undoes all of it.
  template <class Function>
  auto change(const char* doing, Function&& work) {
    if (changes_deep > 0) return with_sentences(path, doing, work);
    return with_sentences(path, doing, [&] {
      SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
      if constexpr (std::is_void_v<decltype(work())>) {
        work();
        transaction.commit();
      } else {
        auto result = work();
        transaction.commit();
        return result;
      }
    });
  }

  /// The row of what took a photo, made where there is none; inside a change.
  std::int64_t camera_row(const std::string& make, const std::string& model);

  /// Hides a row or shows it again.
  void set_removed(const char* table, std::int64_t id, bool removed) {
    change("change the record", [&] {
      const std::optional<std::string> when =
          removed ? std::optional(time_of_change()) : std::nullopt;
      changed(database, "entry",
              std::string("UPDATE ") + table + " SET removed_at = ? WHERE id = ?", when, id);
    });
  }

  template <class Function>
  auto read(Function&& work) {
    return with_sentences(path, "read the record", work);
  }
};

}  // namespace scantling

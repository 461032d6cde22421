#pragma once

#include <atomic>
#include <cstddef>
#include <functional>

namespace scantling {

/// How many threads serve long work best on this machine; at least 1.
unsigned usable_cores();

/// Runs `work` once for each index below `count`, on `threads` threads of which the caller's is
/// one. Which thread takes which index is left open, so `work` writes its result to a place of its
/// own and the outcome is the same however many threads there are. Where `stop` turns true, indexes
/// not begun are left out. What `work` throws ends the rest and is thrown here, that of the
/// smallest index first.
void for_each_index(std::size_t count, unsigned threads,
                    const std::function<void(std::size_t)>& work,
                    const std::atomic<bool>* stop = nullptr);

}  // namespace scantling

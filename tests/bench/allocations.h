// How often this program has asked for memory.
#pragma once

namespace swashwright::bench {

/// Calls of operator new since the program started.
long allocations();

}  // namespace swashwright::bench

// How often a thread has asked for memory. A program that links this has its operator new counted.
#pragma once

namespace swashwright::testing {

/// Calls of operator new by this thread since it started.
long allocations();

}  // namespace swashwright::testing

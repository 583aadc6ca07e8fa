#pragma once

namespace canewise {

/// From here on ctrl-C and a polite kill let the stage under way end and then stop the work; what is being written is
/// finished first, so that nothing is left half-written.
void catch_interrupts();
[[nodiscard]] bool interrupted();
/// Throws Cancelled once one was caught.
void stop_if_interrupted();

}  // namespace canewise

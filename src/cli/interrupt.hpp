// Ctrl-C and a request to end: stop at the next safe point, leave no half-written file.
#pragma once

namespace eyebrow::cli {

/// From now on the first SIGINT or SIGTERM is remembered, the second ends the process at once; a write to a closed
/// pipe fails instead of killing the process. A signal that was ignored when the program started stays ignored.
void watch_signals();

/// The signal remembered; 0 = none.
int signal_seen();

/// Throws Interrupted when a signal was remembered.
void stop_if_asked();

}  // namespace eyebrow::cli

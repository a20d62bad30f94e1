// What moves along when `--set` changes a valve's diameter or tilt: of rim height and flush lift the one that the file
// states is held, and the other follows.
#pragma once
#include "eyebrow/engine.hpp"
#include "spec/context.hpp"

namespace eyebrow {

/// A warning a valve whose rim plane or flush lift moved without being set. `before`: without the overrides.
void tell_moved_heights(Context& context, const Engine& before, const Engine& after);

}  // namespace eyebrow

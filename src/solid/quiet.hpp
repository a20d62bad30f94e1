#pragma once

namespace eyebrow {

/// Keeps the modeller from printing to standard output and error, for the rest of the process.
void silence_modeller();

}  // namespace eyebrow

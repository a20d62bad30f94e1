// Crown left and compression, as JSON: mm, mm3, piston frame.
#pragma once
#include "eyebrow/compression.hpp"
#include "eyebrow/crown_left.hpp"
#include "json.hpp"

namespace eyebrow {

Json json_metal(const MetalLeft& left);
Json json_compression(const Compression& of);

}  // namespace eyebrow

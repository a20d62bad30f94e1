// What happens when timing is lost, as text and JSON.
#pragma once
#include <string>

#include "eyebrow/report.hpp"
#include "eyebrow/untimed.hpp"

namespace eyebrow {

/// Whether anything can touch, valve by valve, cam by cam, pair by pair, and what it does not know.
std::string untimed_text(const UntimedResult& result, const Format& format);

/// The contract "eyebrow.untimed/1": mm and degrees whatever the units.
std::string untimed_json(const UntimedResult& result);

}  // namespace eyebrow

// What a word such as "steel" stands for, always on the safe side of the alloys that it covers. Published values:
// Callister, Fundamentals of Materials Science and Engineering, 3rd edition, tables B.2 (modulus) and B.6 (expansion),
// at room temperature.
#pragma once
#include <string>
#include <vector>

#include "spec/section.hpp"

namespace eyebrow {

struct Material {
  std::string name;
  double value = 0;
};

/// N/mm2. Steels 207 GPa, aluminium 7075 71 (2024: 72.4), titanium 6Al-4V 114.
inline const Section::Choices<Material> kModuli = {{"steel", {"steel", 207e3}},
                                                   {"aluminium", {"aluminium", 71e3}},
                                                   {"aluminum", {"aluminium", 71e3}},
                                                   {"titanium", {"titanium", 114e3}}};

/// 1/K, of rods and pistons: the alloys that grow most. Steel 4340 12.3e-6, aluminium 7075 23.4e-6 (piston alloys rich
/// in silicon grow less, some 19e-6: memory), titanium 6Al-4V 8.6e-6.
inline const Section::Choices<Material> kPartExpansions = {{"steel", {"steel", 12.3e-6}},
                                                           {"aluminium", {"aluminium", 23.4e-6}},
                                                           {"aluminum", {"aluminium", 23.4e-6}},
                                                           {"titanium", {"titanium", 8.6e-6}}};

/// 1/K, of blocks: the alloys that grow least, as the block's growth is taken off. Ductile iron 10.6e-6 (grey: 11.4),
/// aluminium 356.0 21.5e-6; hypereutectic silicon alloys 18e-6 (memory).
inline const Section::Choices<Material> kBlockExpansions = {
    {"iron", {"iron", 10.6e-6}},
    {"aluminium", {"aluminium", 21.5e-6}},
    {"aluminum", {"aluminium", 21.5e-6}},
    {"high-silicon aluminium", {"high-silicon aluminium", 18e-6}},
    {"high-silicon aluminum", {"high-silicon aluminium", 18e-6}}};

}  // namespace eyebrow

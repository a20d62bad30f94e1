// [each_cylinder]: the numbers that were measured cylinder by cylinder.
#pragma once
#include <string>
#include <vector>

#include "spec/context.hpp"
#include "spec/overrides.hpp"

namespace eyebrow {

/// One cylinder, and the numbers that it has instead of the file's.
struct CylinderNumbers {
  std::string name;
  std::vector<Written> numbers;
};

/// The cylinders of the table, none where it is lacking or faulty. Names, keys and lengths are judged here; each number
/// by its reader, once it stands in the tree. `root`: the file with overrides and `like` applied. A list whose number
/// an override states is left out, and told.
std::vector<CylinderNumbers> read_each_cylinder(Context& context, const Node& root,
                                                const std::vector<Written>& overrides);

/// Takes out of the file what states, in another way, what the cylinder's numbers state: a cylinder's flush lift
/// counts, not the rim height that the file has for all. And the tolerances: they are of the file's own numbers.
void drop_other_ways(Node& root, const CylinderNumbers& cylinder);

}  // namespace eyebrow

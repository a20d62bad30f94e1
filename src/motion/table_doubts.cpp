#include "motion/table_doubts.hpp"
namespace eyebrow::motion {
void doubt_table(const Lobe&, const Valve&, std::vector<Fault>&) {}
}  // namespace eyebrow::motion

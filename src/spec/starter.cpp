#include "eyebrow/spec.hpp"
namespace eyebrow { std::string starter_file() { return ""; } }

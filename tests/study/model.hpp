// An example engine made ready.
#pragma once
#include <string>

#include "eyebrow/spec.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

struct Model {
  EngineFile file;
  Parts parts;
  Setup setup;
  explicit Model(const std::string& name)
      : file(read_engine(EYEBROW_MODELS "/" + name + ".toml")),
        parts(build_parts(file.engine, file.origins)),
        setup(file.engine, parts) {}
};

}  // namespace eyebrow::study

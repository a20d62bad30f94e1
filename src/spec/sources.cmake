eyebrow_module(spec
  SOURCES spec/fault.cpp
  USES tomlplusplus::tomlplusplus fmt::fmt)

eyebrow_module(gap
  SOURCES gap/names.cpp)

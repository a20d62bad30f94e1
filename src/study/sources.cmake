eyebrow_module(study
  SOURCES study/check.cpp
  USES TBB::tbb fmt::fmt)

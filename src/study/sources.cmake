eyebrow_module(study
  SOURCES
    study/asked.cpp study/bore.cpp study/check.cpp study/clock.cpp study/course.cpp study/distinct.cpp study/drop_table.cpp study/interference.cpp
    study/field_least.cpp study/minima.cpp
    study/pairs.cpp study/path.cpp study/piston_gap.cpp study/place.cpp study/refine.cpp study/setup.cpp study/sweep.cpp
  USES TBB::tbb fmt::fmt)

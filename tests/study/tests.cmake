eyebrow_tests(study
  SOURCES
    study/angle_milled_test.cpp study/asked_test.cpp study/card_range_test.cpp study/clock_test.cpp study/cylinders_test.cpp study/disc_engine.cpp
    study/effects_test.cpp
    study/engines_test.cpp study/field_least_test.cpp study/flat_crown_test.cpp study/flips_test.cpp
    study/free_least_test.cpp study/interference_test.cpp study/map_test.cpp study/proof_test.cpp
    study/refine_test.cpp study/reserve_test.cpp
    study/running_test.cpp study/same_bytes_test.cpp study/stack_test.cpp study/tasks_test.cpp
  USES TBB::tbb Boost::headers)

eyebrow_tests(study
  SOURCES study/refine_test.cpp study/clock_test.cpp)

find_package(fcl REQUIRED)

# Against sources outside the project: published examples, handbook tables, closed form.
eyebrow_tests(reference
  SOURCES
    reference/angle_milling_test.cpp
    reference/cam_law_test.cpp
    reference/compression_test.cpp
    reference/crank_slider_test.cpp
    reference/gap_fcl_test.cpp
    reference/gap_occt_test.cpp
    reference/milling_tilt_test.cpp
    reference/valve_timing_test.cpp
  USES Boost::headers fcl eyebrow_occt)

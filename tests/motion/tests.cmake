eyebrow_tests(motion
  SOURCES
    motion/allowances_test.cpp
    motion/band_test.cpp
    motion/cam_drive_test.cpp
    motion/cam_law_test.cpp
    motion/card_doubts_test.cpp
    motion/crank_slider_test.cpp
    motion/doubts_test.cpp
    motion/durations_test.cpp
    motion/freedom_test.cpp
    motion/lift_curve_test.cpp
    motion/motion_test.cpp
    motion/noisy_table_test.cpp
    motion/random_lobes_test.cpp
    motion/rocker_test.cpp
    motion/running_formulas_test.cpp
    motion/table_doubts_test.cpp
    motion/table_test.cpp
  USES Boost::headers Eigen3::Eigen
  LABELS threads)

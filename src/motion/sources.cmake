eyebrow_module(motion
  SOURCES
    motion/cam_drive.cpp
    motion/cam_law.cpp
    motion/crank_slider.cpp
    motion/doubts.cpp
    motion/least_jerk.cpp
    motion/lift_curve.cpp
    motion/lift_from_durations.cpp
    motion/lift_from_law.cpp
    motion/lift_from_lobe.cpp
    motion/lift_from_table.cpp
    motion/motion.cpp
    motion/quintic.cpp
    motion/timing_card.cpp
    motion/words.cpp
  USES Boost::headers fmt::fmt)

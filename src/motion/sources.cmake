eyebrow_module(motion
  SOURCES motion/crank_slider.cpp
  USES Boost::headers)

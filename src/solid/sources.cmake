eyebrow_module(solid
  SOURCES solid/valve_profile.cpp
  USES eyebrow_occt fmt::fmt)

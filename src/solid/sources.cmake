eyebrow_module(solid
  SOURCES solid/names.cpp solid/faults.cpp solid/valve_profile.cpp solid/tool.cpp solid/void_volume.cpp solid/exact_surface.cpp solid/occt.cpp
  USES eyebrow_occt fmt::fmt)

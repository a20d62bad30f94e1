eyebrow_tests(gap SOURCES
  gap/arc_test.cpp
  gap/boxes_test.cpp
  gap/closed_form_test.cpp
  gap/convex_outline_test.cpp
  gap/facing_test.cpp
  gap/field_test.cpp
  gap/hollow_face_test.cpp
  gap/dish_test.cpp
  gap/patch_test.cpp
  gap/property_test.cpp
  gap/sheet_test.cpp
  gap/trim_test.cpp
  gap/under_stem_test.cpp
  gap/valve_pair_test.cpp
  gap/way_test.cpp
  gap/widened_test.cpp
  LABELS threads)

# The time limit is what a stall would run into.
eyebrow_tests(gap_ladder SOURCES gap/contact_ladder_test.cpp TIMEOUT 120)

# Random geometries against a slow reference: EYEBROW_DENSE_* in the source ask for longer runs by hand.
eyebrow_tests(gap_sampling ALONE SOURCES
  gap/clear_closest_test.cpp
  gap/dense_sampling_test.cpp
  gap/differential_test.cpp
  gap/dome_test.cpp
  gap/exact_gaps_test.cpp
  gap/paths_test.cpp
  gap/same_engine_test.cpp
  TIMEOUT 600)
